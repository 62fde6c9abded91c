import { chances } from './soak.js';

/** Draws the values of a random workshop: mostly such as a bench would write, some from the whole range of the schema. */
export class Dice {
  readonly #chance: () => number;

  constructor(
    seed: number,
    /** How often a value is taken from the whole range of its schema, 0 to 1. */
    readonly extreme: number,
  ) {
    this.#chance = chances(seed);
  }

  /** True as often as a share from 0 to 1 says. */
  happens(share: number): boolean {
    return this.#chance() < share;
  }

  between(low: number, high: number): number {
    return low + (high - low) * this.#chance();
  }

  integer(low: number, high: number): number {
    return Math.floor(this.between(low, high + 1));
  }

  oneOf<T>(...choices: readonly T[]): T {
    return choices[this.integer(0, choices.length - 1)]!;
  }

  /** A value from `low` to `high`, and seldom one from `least` to `most`, the limits of its schema, or a limit itself. */
  value(low: number, high: number, least: number, most: number): number {
    if (!this.happens(this.extreme)) return round(this.between(low, high));
    if (this.happens(0.3)) return this.oneOf(least, most);
    // Evenly by orders of magnitude, where the range has them.
    if (least > 0) return Number(Math.exp(this.between(Math.log(least), Math.log(most))).toPrecision(4));
    if (least === 0 && this.happens(0.5)) return Number(10 ** this.between(-4, Math.log10(most))).valueOf();
    return Number(this.between(least, most).toPrecision(6));
  }

  /** A whole number, drawn like `value`. */
  count(low: number, high: number, least: number, most: number): number {
    if (!this.happens(this.extreme)) return this.integer(low, high);
    return Math.max(least, Math.min(most, Math.round(this.value(low, high, Math.max(least, 1), most))));
  }
}

export const round = (n: number): number => Math.round(n * 1000) / 1000;
