/** 64 bits of a text, in two halves. Written over by the next text: a million small objects would cost more than it. */
export const print = { high: 0, low: 0 };

/**
 * Takes the fingerprint of a text. For telling a million honest texts apart: two of them alike by chance are met
 * once in thirty million such registers. No secret hangs on it, and equal texts are never told apart.
 */
export function takePrint(text: string): void {
  let high = 0x2545f491;
  let low = 0x9e3779b9;
  for (let i = 0; i < text.length; i++) {
    const unit = text.charCodeAt(i);
    high = Math.imul(high ^ unit, 0x85ebca6b);
    high = (high << 13) | (high >>> 19);
    low = Math.imul(low ^ unit, 0xc2b2ae35);
    low = (low << 15) | (low >>> 17);
  }
  high ^= Math.imul(low ^ (low >>> 16), 0x27d4eb2f);
  low ^= Math.imul(high ^ (high >>> 15), 0x165667b1);
  print.high = (high ^ (high >>> 13)) >>> 0;
  // 0 and 0 stand for nobody.
  print.low = (low ^ (low >>> 16)) >>> 0 || 1;
}

/** Texts seen, each with a number: by fingerprint, in arrays that nobody walks to find what is no longer needed. */
export class Seen {
  #high = new Uint32Array(1024);
  #low = new Uint32Array(1024);
  #values = new Uint32Array(1024);
  #count = 0;

  /** The number that came with the text first; when it is new, it is entered with this one. */
  enter(text: string, value: number): number | undefined {
    if (this.#count * 2 >= this.#low.length) this.#widen();
    takePrint(text);
    const at = this.#place(print.high, print.low);
    if (this.#low[at] !== 0) return this.#values[at];
    this.#high[at] = print.high;
    this.#low[at] = print.low;
    this.#values[at] = value;
    this.#count++;
    return undefined;
  }

  #place(high: number, low: number): number {
    const last = this.#low.length - 1;
    let at = (high ^ low) & last;
    while (this.#low[at] !== 0 && (this.#low[at] !== low || this.#high[at] !== high)) at = (at + 1) & last;
    return at;
  }

  #widen(): void {
    const [high, low, values] = [this.#high, this.#low, this.#values];
    this.#high = new Uint32Array(high.length * 2);
    this.#low = new Uint32Array(high.length * 2);
    this.#values = new Uint32Array(high.length * 2);
    for (let i = 0; i < low.length; i++) {
      if (low[i] === 0) continue;
      const at = this.#place(high[i]!, low[i]!);
      this.#high[at] = high[i]!;
      this.#low[at] = low[i]!;
      this.#values[at] = values[i]!;
    }
  }
}
