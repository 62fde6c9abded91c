import { formatCsvRow } from '../documents/csv/write.js';
import { problemLine } from '../problem.js';
import type { AuditResult } from './audit.js';

/** An audit for people: what was checked, then what was found. */
export function auditLines({ report, stock }: AuditResult): string[] {
  const { events, numbers, root, checkpoints, gaps, findings } = report;
  const lines = [
    `${counted(events, 'event')} of ${counted(numbers, 'number')}; root ${root.toString('base64')}`,
  ];
  for (const { size, from, agrees, signed } of checkpoints) {
    const signature =
      signed === undefined ? 'signature not checked' : signed ? 'signed by the key' : 'not signed by the key';
    lines.push(
      `checkpoint of ${counted(size, 'event')} (${from}): ${agrees ? 'agrees' : 'does not agree'}; ${signature}`,
    );
  }
  for (const { edition, series, numbers: which, why } of gaps)
    lines.push(`${edition} ${series}: no piece ${which}: ${why}`);
  lines.push(...findings.map((f) => `${f.grade}: ${problemLine(f)}`));
  if (stock) {
    lines.push(
      `${counted(stock.seen, 'row')} seen, ${stock.agreeing} ${stock.agreeing === 1 ? 'label agrees' : 'labels agree'}`,
    );
    lines.push(...stock.findings.map((f) => `shelf: ${problemLine(f)}`));
  }
  const faults = findings.filter(({ grade }) => grade === 'fault').length;
  const remarks = findings.length - faults;
  const shelves = stock ? `, ${counted(stock.findings.length, 'difference')} on the shelves` : '';
  lines.push(
    faults + remarks + (stock?.findings.length ?? 0) === 0
      ? 'Nothing was found.'
      : `Found: ${counted(faults, 'fault')}, ${counted(remarks, 'remark')}${shelves}.`,
  );
  return lines;
}

const counted = (n: number, noun: string): string => `${n} ${noun}${n === 1 ? '' : 's'}`;

/** The same as a table: one line for each finding. */
export const auditCsv = ({ report, stock }: AuditResult): string[] => [
  'grade,code,event,where,message,hint',
  ...report.findings.map((f) => formatCsvRow([f.grade, f.code, f.seq, f.where, f.what, f.cure])),
  ...(stock?.findings ?? []).map((f) => formatCsvRow(['shelf', f.code, undefined, f.where, f.what, f.cure])),
];

/** The same for a program; hashes as text. */
export const auditAnswer = ({ ok, report, stock }: AuditResult): object => ({
  ...report,
  ok,
  root: report.root.toString('base64'),
  stocktake: stock,
});
