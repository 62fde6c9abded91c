/** A coordinate in a drawing, mm: four decimals at most, never an exponent, never -0. Throws a RangeError unless finite. */
export function formatCoordinate(value: number, decimals = 4): string {
  if (!Number.isFinite(value)) throw new RangeError(`${value} cannot be drawn`);
  const text = value.toFixed(decimals);
  const short = text.includes('.') ? text.replace(/\.?0+$/, '') : text;
  return short === '-0' ? '0' : short;
}

/** A number for a person to read, with a true minus sign. */
export const formatNumber = (value: number, decimals = 3): string =>
  formatCoordinate(value, decimals).replace('-', '\u2212');

/** A count with its noun: `1 piece`, `12 pieces`. */
export const formatCount = (count: number, one: string, many = `${one}s`): string =>
  `${count} ${count === 1 ? one : many}`;

/** A duration in minutes, rounded up to seconds, or from an hour on to minutes: a time says when to be back. */
export function formatDuration(minutes: number): string {
  const seconds = Math.ceil(minutes * 60 - 1e-6);
  const two = (v: number): string => String(v).padStart(2, '0');
  if (seconds < 60) return `${seconds} s`;
  if (seconds < 3600) return `${Math.floor(seconds / 60)} min ${two(seconds % 60)} s`;
  const whole = Math.ceil(seconds / 60);
  return `${Math.floor(whole / 60)} h ${two(whole % 60)} min`;
}
