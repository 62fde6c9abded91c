import { print, takePrint } from './fingerprint.js';

/** What an audit remembers of the numbers of one series: figures only, by number, for there may be a million. */
export class SeriesLives {
  /** Its place among the series of its edition. */
  readonly place: number;
  #high = new Uint32Array(128);
  #low = new Uint32Array(128);
  #first = new Uint32Array(128);
  #life = new Uint32Array(128);
  #end = 1;
  #count = 0;

  constructor(place: number) {
    this.place = place;
  }

  get count(): number {
    return this.#count;
  }

  has(number: number): boolean {
    return number < this.#end && this.#low[number] !== 0;
  }

  bears(number: number, label: string): boolean {
    takePrint(label);
    return this.#low[number] === print.low && this.#high[number] === print.high;
  }

  life(number: number): number {
    return this.#life[number]!;
  }

  /** The first event that names it. */
  first(number: number): number {
    return this.#first[number]!;
  }

  turn(number: number, life: number): void {
    this.#life[number] = life;
  }

  enter(number: number, life: number, label: string, first: number): void {
    if (number >= this.#low.length) {
      const length = Math.max(number + 1, this.#low.length * 2);
      this.#high = wider(this.#high, length);
      this.#low = wider(this.#low, length);
      this.#first = wider(this.#first, length);
      this.#life = wider(this.#life, length);
    }
    this.#count++;
    takePrint(label);
    this.#high[number] = print.high;
    this.#low[number] = print.low;
    this.#first[number] = first;
    this.#life[number] = life;
    this.#end = Math.max(this.#end, number + 1);
  }

  *numbers(): Generator<number> {
    for (let number = 1; number < this.#end; number++) if (this.has(number)) yield number;
  }
}

function wider(figures: Uint32Array<ArrayBuffer>, length: number): Uint32Array<ArrayBuffer> {
  const made = new Uint32Array(length);
  made.set(figures);
  return made;
}
