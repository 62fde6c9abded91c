import { formatCsvRow } from '../documents/csv/write-csv.js';
import type { Problem } from '../problem.js';
import type { AuditResult } from './audit.js';
import { counted } from './counted.js';
import { describeProblem, toUserLine } from './describe-problem.js';
import { timeOf } from './witnesses.js';

/** An audit for people: what was checked, then what was found. */
export function auditLines({ report, stock }: AuditResult): string[] {
  const { events, numbers, root, checkpoints, uncovered, gaps, findings } = report;
  const lines = [
    `${counted(events, 'event')} of ${counted(numbers, 'number')}; root ${root.toString('base64')}`,
  ];
  for (const { size, from, agrees, signed, seen = [] } of checkpoints) {
    const signature =
      signed === undefined ? 'signature not checked' : signed ? 'signed by the key' : 'not signed by the key';
    const witnessed = seen.map(({ name, seconds }) => `; seen by ${name} at ${timeOf(seconds)}`).join('');
    lines.push(
      `checkpoint of ${counted(size, 'event')} (${from}): ${agrees ? 'agrees' : 'does not agree'}; ${signature}${witnessed}`,
    );
  }
  if (events > 0)
    lines.push(
      uncovered === 0
        ? 'every event is covered by a checkpoint from outside'
        : `${counted(uncovered, 'event')} ${uncovered === 1 ? 'is' : 'are'} covered by no outside checkpoint`,
    );
  for (const { edition, series, numbers: which, why } of gaps)
    lines.push(`${edition} ${series}: no piece ${which}: ${why}`);
  lines.push(...findings.map((f) => `${f.grade}: ${toUserLine(f)}`));
  if (stock) {
    lines.push(
      `${counted(stock.seen, 'row')} seen, ${stock.agreeing} ${stock.agreeing === 1 ? 'label agrees' : 'labels agree'}`,
    );
    lines.push(...stock.findings.map((f) => `shelf: ${toUserLine(f)}`));
  }
  const faults = findings.filter(({ grade }) => grade === 'fault').length;
  const remarks = findings.length - faults;
  const shelves = stock ? `, ${counted(stock.findings.length, 'difference')} on the shelves` : '';
  lines.push(
    faults + remarks + (stock?.findings.length ?? 0) === 0
      ? 'No fault was found.'
      : `Found: ${counted(faults, 'fault')}, ${counted(remarks, 'remark')}${shelves}.`,
  );
  return lines;
}

/** The same as a table: one line for each finding. */
export const auditCsv = ({ report, stock }: AuditResult): string[] => [
  'grade,code,event,where,message,hint',
  ...report.findings.map((f) => csvRow(f.grade, f.seq, f)),
  ...(stock?.findings ?? []).map((f) => csvRow('shelf', undefined, f)),
];

function csvRow(grade: string, seq: number | undefined, found: Problem): string {
  const { code, where, message, hint } = describeProblem(found);
  return formatCsvRow([grade, code, seq, where, message, hint]);
}

/** The same for a program; hashes as text. */
export const auditAnswer = ({ ok, report, stock }: AuditResult): object => ({
  ...report,
  ok,
  root: report.root.toString('base64'),
  findings: report.findings.map(described),
  stocktake: stock && { ...stock, findings: stock.findings.map(described) },
});

const described = <P extends Problem>({ exit: _exit, ...found }: P) => ({
  ...found,
  ...describeProblem(found),
});
