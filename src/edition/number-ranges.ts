/** More ranges than these are only counted. */
const MOST_RANGES = 20;

/** Numbers as `1-3, 7`, ascending; beyond twenty ranges the rest is counted. */
export function formatRanges(numbers: readonly number[]): string {
  const ranges: [first: number, last: number][] = [];
  for (const n of [...numbers].sort((a, b) => a - b)) {
    const current = ranges.at(-1);
    if (current && n === current[1] + 1) current[1] = n;
    else ranges.push([n, n]);
  }
  const listed = ranges.slice(0, MOST_RANGES).map(([a, b]) => (a === b ? `${a}` : `${a}-${b}`));
  const rest = ranges.length - listed.length;
  if (rest === 0) return listed.join(', ');
  return `${listed.join(', ')} and ${rest} more ${rest === 1 ? 'range' : 'ranges'}`;
}
