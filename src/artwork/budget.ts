import type { problem } from './messages.js';

/** Codes of limits: each has the limit as its only value. */
export type LimitCode = Extract<
  Parameters<typeof problem>[0],
  | `artwork.too-${string}`
  | 'artwork.clips-too-deep'
  | 'artwork.copies-too-deep'
  | 'artwork.value-too-long'
  | 'artwork.stroke-too-dense'
>;

/** A file asks for more steps of one kind than its budget has. */
export class LimitExceeded extends Error {
  constructor(
    readonly code: LimitCode,
    readonly limit: number,
  ) {
    super(`${code} (${limit})`);
  }
}

/** Steps of one kind of work that one file may take. */
export class Budget {
  #used = 0;

  constructor(
    readonly code: LimitCode,
    readonly limit: number,
  ) {}

  get used(): number {
    return this.#used;
  }

  take(steps = 1): void {
    this.#used += steps;
    if (!(this.#used <= this.limit)) throw new LimitExceeded(this.code, this.limit);
  }
}
