/** So many requests have room at first; the tables double when half of it is used. */
const FIRST_LENGTH = 1024;

/**
 * The first event of each request, by a digest of its key: 12 bytes a request in typed arrays, for a register may have a
 * million. Equal keys always meet. Two different keys meet by chance once in thirty million registers of that size; so
 * whoever is given such a pair compares the keys themselves. `npm run bench -- audit-parts` shows what this saves over a
 * `Map` of the keys.
 */
export class RequestIndex {
  #high = new Uint32Array(FIRST_LENGTH);
  #low = new Uint32Array(FIRST_LENGTH);
  #events = new Uint32Array(FIRST_LENGTH);
  #count = 0;

  /** The event entered first with this key, or with a key of the same digest; otherwise enters this event. */
  enter(key: string, event: number): number | undefined {
    if (this.#count * 2 >= this.#low.length) this.#grow();
    // 64 bits in two halves, mixed as hash tables do; there is no secret in it.
    let high = 0x2545f491;
    let low = 0x9e3779b9;
    for (let i = 0; i < key.length; i++) {
      const unit = key.charCodeAt(i);
      high = Math.imul(high ^ unit, 0x85ebca6b);
      high = (high << 13) | (high >>> 19);
      low = Math.imul(low ^ unit, 0xc2b2ae35);
      low = (low << 15) | (low >>> 17);
    }
    high ^= Math.imul(low ^ (low >>> 16), 0x27d4eb2f);
    low ^= Math.imul(high ^ (high >>> 15), 0x165667b1);
    high = (high ^ (high >>> 13)) >>> 0;
    // A low half of 0 marks an empty place.
    low = (low ^ (low >>> 16)) >>> 0 || 1;
    const at = this.#find(high, low);
    if (this.#low[at] !== 0) return this.#events[at];
    this.#high[at] = high;
    this.#low[at] = low;
    this.#events[at] = event;
    this.#count++;
    return undefined;
  }

  #find(high: number, low: number): number {
    const last = this.#low.length - 1;
    let at = (high ^ low) & last;
    while (this.#low[at] !== 0 && (this.#low[at] !== low || this.#high[at] !== high)) at = (at + 1) & last;
    return at;
  }

  #grow(): void {
    const [high, low, events] = [this.#high, this.#low, this.#events];
    this.#high = new Uint32Array(high.length * 2);
    this.#low = new Uint32Array(high.length * 2);
    this.#events = new Uint32Array(high.length * 2);
    for (let i = 0; i < low.length; i++) {
      if (low[i] === 0) continue;
      const at = this.#find(high[i]!, low[i]!);
      this.#high[at] = high[i]!;
      this.#low[at] = low[i]!;
      this.#events[at] = events[i]!;
    }
  }
}
