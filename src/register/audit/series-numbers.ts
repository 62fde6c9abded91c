/**
 * What an audit remembers of the numbers of one series: two integers a number, in typed arrays, because there may be a
 * million numbers.
 */
export class SeriesNumbers {
  /** Its place among the series of its edition. */
  readonly index: number;
  #firstEvent = new Uint32Array(128);
  /** Index of the lifecycle state plus 1; 0 stands for a number that no event names. */
  #state = new Uint32Array(128);
  #end = 1;
  #count = 0;

  constructor(index: number) {
    this.index = index;
  }

  get count(): number {
    return this.#count;
  }

  has(number: number): boolean {
    return number < this.#end && this.#state[number] !== 0;
  }

  state(number: number): number {
    return this.#state[number]! - 1;
  }

  /** Place in the sequence of the first event that names it. */
  firstEvent(number: number): number {
    return this.#firstEvent[number]!;
  }

  setState(number: number, state: number): void {
    this.#state[number] = state + 1;
  }

  add(number: number, state: number, firstEvent: number): void {
    if (number >= this.#state.length) {
      const length = Math.max(number + 1, this.#state.length * 2);
      this.#firstEvent = resize(this.#firstEvent, length);
      this.#state = resize(this.#state, length);
    }
    this.#count++;
    this.#firstEvent[number] = firstEvent;
    this.#state[number] = state + 1;
    this.#end = Math.max(this.#end, number + 1);
  }

  *numbers(): Generator<number> {
    for (let number = 1; number < this.#end; number++) if (this.has(number)) yield number;
  }
}

function resize(values: Uint32Array<ArrayBuffer>, length: number): Uint32Array<ArrayBuffer> {
  const copy = new Uint32Array(length);
  copy.set(values);
  return copy;
}
