import { problemLine } from '../problem.js';
import type { Finding } from '../register/audit/finding.js';
import type { Audited } from './audit.js';
import { csvLine } from './csv-line.js';

/** An audit for people: what was looked at, then what was found. */
export function auditLines({ report, stock }: Audited): string[] {
  const { events, numbers, root, checkpoints, gaps, findings } = report;
  const lines = [`${events} events of ${numbers} numbers; root ${root.toString('base64')}`];
  for (const { size, from, agrees, signed } of checkpoints) {
    const signature =
      signed === undefined
        ? 'signature not looked at'
        : signed
          ? 'signed by the key'
          : 'not signed by the key';
    lines.push(
      `checkpoint of ${size} events (${from}): ${agrees ? 'agrees' : 'does not agree'}; ${signature}`,
    );
  }
  for (const { edition, series, numbers: which, why } of gaps)
    lines.push(`${edition} ${series}: no piece ${which}: ${why}`);
  lines.push(...findings.map((f) => `${f.grade}: ${problemLine(f)}`));
  if (stock) {
    lines.push(`${stock.seen} rows seen, ${stock.agreeing} labels agree`);
    for (const f of stock.findings)
      lines.push(`${f.kind}: ${problemLine({ ...f, where: f.row === undefined ? '' : `row ${f.row}` })}`);
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
export function auditCsv({ report, stock }: Audited): string[] {
  const row = (f: Finding) => csvLine([f.grade, f.kind, f.seq, f.where, f.what, f.cure]);
  return [
    'grade,kind,event,where,what,cure',
    ...report.findings.map(row),
    ...(stock?.findings ?? []).map((f) =>
      csvLine(['shelf', f.kind, undefined, f.row === undefined ? f.label : `row ${f.row}`, f.what, f.cure]),
    ),
  ];
}

/** The same for a program; hashes as text. */
export const auditAnswer = ({ ok, report, stock }: Audited): object => ({
  ...report,
  ok,
  root: report.root.toString('base64'),
  stocktake: stock,
});
