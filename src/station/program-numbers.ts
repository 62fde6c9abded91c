/** A length or angle with a fixed number of digits after the point; never an exponent, never minus zero. */
export function formatFixed(value: number, decimals: number): string {
  const text = value.toFixed(decimals);
  return text.startsWith('-') && Number(text) === 0 ? text.slice(1) : text;
}

/** `value` rounded up to the next step of `decimals` digits, for heights that must not be lower than asked. */
export function roundUp(value: number, decimals: number): number {
  const steps = 10 ** decimals;
  // A float's dust above a whole step must not add a step.
  return Math.ceil(value * steps - 1e-6) / steps;
}

const FEED_DIGITS = 6;

/** A positive feed word's number, rounded down at the sixth digit so that nothing goes faster than asked. */
export function formatFeed(value: number): string {
  const decimals = Math.min(15, Math.max(1, FEED_DIGITS - 1 - Math.floor(Math.log10(value))));
  const steps = 10 ** decimals;
  return (Math.floor(value * steps) / steps).toFixed(decimals);
}

/** A spindle speed, 1/min: whole where it is whole. */
export const formatSpeed = (value: number): string => String(Number(value.toFixed(3)));

/** A number for a sentence: up to four digits after the point, no trailing noughts. */
export const formatNumber = (value: number): string => String(Number(value.toFixed(4)));

/** The largest round number not above `value`, three digits, for a hint. */
export function formatRoundedDown(value: number): string {
  const step = 10 ** (Math.floor(Math.log10(value)) - 2);
  const down = Math.floor(value / step + 1e-9) * step;
  return String(Number(down.toPrecision(3)));
}
