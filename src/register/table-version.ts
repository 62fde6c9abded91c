/**
 * The version that tables are of, by the rows that count their steps. A row beyond a gap was put there by another hand: a
 * step is entered with every one before it.
 */
export function tableVersion(rows: readonly number[], known: number): number {
  let last = 0;
  for (const version of [...rows].sort((a, b) => a - b)) if (version === last + 1) last = version;
  return Math.max(last, rows.includes(known) ? known : 0);
}

/** The rows that no step entered, and the steps that have none, of tables of a version. */
export function strayVersions(rows: readonly number[], form: number): number[] {
  const missing = Array.from({ length: form }, (_, i) => i + 1).filter((version) => !rows.includes(version));
  return [...rows.filter((version) => version < 1 || version > form), ...missing].sort((a, b) => a - b);
}
