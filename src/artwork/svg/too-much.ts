/** A file asks for more work than any drawing needs; it is refused with these words. */
export class TooMuch extends Error {
  constructor(
    what: string,
    readonly cure: string,
  ) {
    super(what);
  }
}

/** So much of one kind of work, and no more, for a whole file. */
export class Allowance {
  #left: number;

  constructor(
    most: number,
    private readonly what: string,
    private readonly cure: string,
  ) {
    this.#left = most;
  }

  take(amount = 1): void {
    this.#left -= amount;
    if (!(this.#left >= 0)) throw new TooMuch(this.what, this.cure);
  }
}
