/** A file asks for more work than any drawing needs; it is refused with these words. */
export class TooMuch extends Error {
  constructor(
    what: string,
    readonly cure: string,
  ) {
    super(what);
  }
}
