/**
 * The short way through many lines: in what order, and each from which end, so that the moves in the air add up to
 * little. One hard thing on flat typed arrays: a greedy start, then 2-opt and Or-opt over near neighbours, then small
 * kicks that are kept when they help (Croes 1958; Or 1976; Martin, Otto and Felten 1991; from memory). The kicks come
 * from a fixed sequence, so the same lines always give the same order.
 */
export interface Ends {
  /** x, y of the first and last point of each line: x0, y0, x1, y1 per line, mm. Alike for closed lines. */
  readonly points: Float64Array;
  /** How far round the surface is along x, mm; infinite where it does not close. */
  readonly round: number;
  /** False keeps every line running the way it was drawn. */
  readonly eitherWay: boolean;
}

export interface Tour {
  /** Lines in order. */
  readonly order: Int32Array;
  /** 1 where the line is cut from its last point to its first. */
  readonly turned: Uint8Array;
  /** Moves in the air between the lines, mm. */
  readonly air: number;
}

const NEIGHBOURS = 10;
const LONGEST_MOVED = 3;
/** Kicks for each line: more would find little more. */
const KICKS_PER_LINE = 12;
const LEAST_GAIN_MM = 1e-9;

export function shortTour(ends: Ends): Tour {
  const n = ends.points.length / 4;
  if (n < 2) return { order: new Int32Array(n), turned: new Uint8Array(n), air: 0 };
  const search = new Search(ends, n);
  search.greedy();
  search.improveAll();
  search.kicks(KICKS_PER_LINE * n);
  return search.tour();
}

/** Moves in the air of a given order, mm. */
export function airOf(ends: Ends, order: Int32Array, turned: Uint8Array): number {
  let sum = 0;
  for (let i = 1; i < order.length; i++) {
    const out = 2 * order[i - 1]! + (turned[i - 1] ? 0 : 1);
    const into = 2 * order[i]! + (turned[i] ? 1 : 0);
    sum += apart(ends, out, into);
  }
  return sum;
}

function apart({ points, round }: Ends, p: number, q: number): number {
  let dx = Math.abs(points[2 * p]! - points[2 * q]!);
  if (round !== Number.POSITIVE_INFINITY) {
    dx %= round;
    if (dx > round / 2) dx = round - dx;
  }
  const dy = points[2 * p + 1]! - points[2 * q + 1]!;
  return Math.sqrt(dx * dx + dy * dy);
}

/**
 * A line in the tour is a code: twice its index, plus 1 when it is turned round. It is entered at point `code` and
 * left at point `code ^ 1`, points being numbered two to a line. The tour is a ring closed by one more line of no
 * place, at no distance from anything: where it stands, the way begins and ends.
 */
class Search {
  readonly #n: number;
  readonly #size: number;
  readonly #way: boolean;
  readonly #d: (p: number, q: number) => number;
  readonly #near: Int32Array;
  readonly #per: number;
  #ring: Int32Array;
  readonly #at: Int32Array;
  readonly #todo: Int32Array;
  readonly #queued: Uint8Array;
  #head = 0;
  #count = 0;

  constructor(ends: Ends, n: number) {
    this.#n = n;
    this.#size = n + 1;
    this.#way = ends.eitherWay;
    const nowhere = 2 * n;
    this.#d = (p, q) => (p >= nowhere || q >= nowhere ? 0 : apart(ends, p, q));
    this.#per = Math.min(NEIGHBOURS, n - 1) * (ends.eitherWay ? 2 : 1);
    this.#near = this.#neighbours();
    this.#ring = Int32Array.from({ length: n + 1 }, (_, i) => 2 * i);
    this.#at = new Int32Array(n + 1);
    this.#todo = new Int32Array(n + 1);
    this.#queued = new Uint8Array(n + 1);
  }

  /** For each point, the points of other lines nearest to it. */
  #neighbours(): Int32Array {
    const points = 2 * this.#n;
    const near = new Int32Array(points * this.#per);
    const far = new Float64Array(this.#per);
    for (let p = 0; p < points; p++) {
      const row = p * this.#per;
      let held = 0;
      for (let q = 0; q < points; q++) {
        if (q >> 1 === p >> 1 || !(this.#way || (q ^ p) & 1)) continue;
        const d = this.#d(p, q);
        if (held === this.#per && d >= far[held - 1]!) continue;
        // Kept in order by insertion: the list is short.
        let k = held < this.#per ? held++ : held - 1;
        for (; k > 0 && far[k - 1]! > d; k--) {
          far[k] = far[k - 1]!;
          near[row + k] = near[row + k - 1]!;
        }
        far[k] = d;
        near[row + k] = q;
      }
    }
    return near;
  }

  greedy(): void {
    const used = new Uint8Array(this.#n);
    const ring = this.#ring;
    ring[0] = 2 * this.#n;
    ring[1] = 0;
    used[0] = 1;
    for (let i = 2; i < this.#size; i++) {
      const out = ring[i - 1]! ^ 1;
      let best = Number.POSITIVE_INFINITY;
      for (let line = 0; line < this.#n; line++) {
        if (used[line]) continue;
        for (let code = 2 * line; code <= 2 * line + (this.#way ? 1 : 0); code++) {
          const d = this.#d(out, code);
          if (d >= best) continue;
          best = d;
          ring[i] = code;
        }
      }
      used[ring[i]! >> 1] = 1;
    }
    for (let i = 0; i < this.#size; i++) this.#at[ring[i]! >> 1] = i;
  }

  improveAll(): void {
    for (let line = 0; line < this.#size; line++) this.#queue(line);
    this.#improve();
  }

  /** Works through the lines whose neighbourhood changed until no move helps any of them. */
  #improve(): void {
    while (this.#count > 0) {
      const line = this.#todo[this.#head]!;
      this.#head = (this.#head + 1) % this.#size;
      this.#count--;
      this.#queued[line] = 0;
      while (this.#betterAt(line));
    }
  }

  #queue(line: number): void {
    if (this.#queued[line]) return;
    this.#queued[line] = 1;
    this.#todo[(this.#head + this.#count++) % this.#size] = line;
  }

  #code = (i: number): number => this.#ring[(i + this.#size) % this.#size]!;

  #betterAt(line: number): boolean {
    return (this.#way && this.#reversal(line)) || this.#move(line);
  }

  /** 2-opt: turn a stretch of the ring round, so that this line's exit (or entry) meets a near point. */
  #reversal(line: number): boolean {
    if (line === this.#n) return false;
    const i = this.#at[line]!;
    const code = this.#ring[i]!;
    const out = code ^ 1;
    const next = this.#code(i + 1);
    const cut = this.#d(out, next);
    for (let k = 0; k < this.#per; k++) {
      const r = this.#near[out * this.#per + k]!;
      const d = this.#d(out, r);
      if (d >= cut) break;
      const j = this.#at[r >> 1]!;
      if (this.#ring[j]! !== (r ^ 1)) continue;
      const after = this.#code(j + 1);
      if (d + this.#d(next, after) < cut + this.#d(r, after) - LEAST_GAIN_MM) {
        this.#turn(i + 1, j);
        return true;
      }
    }
    const before = this.#code(i - 1) ^ 1;
    const cutIn = this.#d(before, code);
    for (let k = 0; k < this.#per; k++) {
      const r = this.#near[code * this.#per + k]!;
      const d = this.#d(code, r);
      if (d >= cutIn) break;
      const j = this.#at[r >> 1]!;
      if (this.#ring[j]! !== r) continue;
      const ahead = this.#code(j - 1) ^ 1;
      if (d + this.#d(before, ahead) < cutIn + this.#d(ahead, r) - LEAST_GAIN_MM) {
        this.#turn(j, i - 1);
        return true;
      }
    }
    return false;
  }

  /** Turns positions from..to of the ring round, or the rest of the ring, whichever is shorter: it is the same. */
  #turn(from: number, to: number): void {
    const size = this.#size;
    let a = ((from % size) + size) % size;
    let b = ((to % size) + size) % size;
    let length = ((b - a + size) % size) + 1;
    if (length * 2 > size) {
      [a, b] = [(b + 1) % size, (a - 1 + size) % size];
      length = size - length;
    }
    for (const edge of [a - 1, a, b, b + 1]) this.#queue(this.#code(edge) >> 1);
    for (let k = 0; k < length >> 1; k++) {
      const p = (a + k) % size;
      const q = (b - k + size) % size;
      const left = this.#ring[p]!;
      this.#put(p, this.#ring[q]! ^ 1);
      this.#put(q, left ^ 1);
    }
    if (length & 1) {
      const p = (a + (length >> 1)) % size;
      this.#put(p, this.#ring[p]! ^ 1);
    }
  }

  #put(i: number, code: number): void {
    this.#ring[i] = code;
    this.#at[code >> 1] = i;
  }

  /** Or-opt: take this line, with up to two that follow, to where it meets a near point, either way round. */
  #move(line: number): boolean {
    const i = this.#at[line]!;
    for (let length = 1; length <= Math.min(LONGEST_MOVED, this.#size - 3); length++) {
      const first = this.#ring[i]!;
      const last = this.#code(i + length - 1);
      const before = this.#code(i - 1);
      const after = this.#code(i + length);
      const gain = this.#d(before ^ 1, first) + this.#d(last ^ 1, after) - this.#d(before ^ 1, after);
      if (gain <= LEAST_GAIN_MM) continue;
      for (const [head, tail, turned] of [
        [first, last ^ 1, false],
        [last ^ 1, first, true],
      ] as const) {
        if ((turned && !this.#way) || head >= 2 * this.#n) continue;
        for (let k = 0; k < this.#per; k++) {
          const r = this.#near[head * this.#per + k]!;
          if (this.#d(head, r) >= gain) break;
          const j = this.#at[r >> 1]!;
          if ((j - i + this.#size) % this.#size < length || this.#ring[j]! !== (r ^ 1)) continue;
          const next = this.#code(j + 1);
          if (next === first) continue;
          const cost = this.#d(r, head) + this.#d(tail, next) - this.#d(r, next);
          if (cost >= gain - LEAST_GAIN_MM) continue;
          this.#carry(i, length, j, turned);
          return true;
        }
      }
    }
    return false;
  }

  #carry(i: number, length: number, j: number, turned: boolean): void {
    const size = this.#size;
    const taken = Array.from({ length }, (_, k) => this.#code(i + k));
    if (turned) taken.reverse();
    for (const at of [i - 1, i + length, j, j + 1]) this.#queue(this.#code(at) >> 1);
    let p = (i + length) % size;
    let q = i;
    while (q !== (j + 1 - length + size) % size) {
      this.#put(q, this.#ring[p]!);
      p = (p + 1) % size;
      q = (q + 1) % size;
    }
    for (const code of taken) {
      this.#put(q, turned ? code ^ 1 : code);
      this.#queue(code >> 1);
      q = (q + 1) % size;
    }
  }

  #length(): number {
    let sum = 0;
    for (let i = 0; i < this.#size; i++) sum += this.#d(this.#ring[i]! ^ 1, this.#code(i + 1));
    return sum;
  }

  /** Two near stretches change places; what the search makes of it is kept when the ring is shorter for it. */
  kicks(count: number): void {
    const size = this.#size;
    if (size < 8) return;
    let seed = 88_172_645;
    const draw = (below: number) => {
      // Numbers that only look like chance (Park and Miller 1988): always the same ones.
      seed = (seed * 48_271) % 2_147_483_647;
      return seed % below;
    };
    let best = this.#length();
    const kept = Int32Array.from(this.#ring);
    for (let k = 0; k < count; k++) {
      const reach = Math.max(1, Math.min(50, (size - 2) >> 1));
      const a = draw(size);
      const one = 1 + draw(reach);
      const two = 1 + draw(Math.max(1, Math.min(reach, size - 1 - one)));
      const codes = Array.from({ length: one + two }, (_, i) => this.#code(a + i));
      for (const at of [a - 1, a, a + one - 1, a + one, a + one + two - 1, a + one + two])
        this.#queue(this.#code(at) >> 1);
      const swapped = [...codes.slice(one), ...codes.slice(0, one)];
      for (const [i, code] of swapped.entries()) this.#put((a + i) % size, code);
      this.#improve();
      const length = this.#length();
      if (length < best - LEAST_GAIN_MM) {
        best = length;
        kept.set(this.#ring);
      } else {
        for (let i = 0; i < size; i++) this.#put(i, kept[i]!);
      }
    }
  }

  tour(): Tour {
    const start = this.#at[this.#n]!;
    const codes = Int32Array.from({ length: this.#n }, (_, i) => this.#code(start + 1 + i));
    // The nowhere line may itself have been turned; then the way is read from its other side, which is as short.
    const order = codes.map((code) => code >> 1);
    const turned = Uint8Array.from(codes, (code) => code & 1);
    let air = 0;
    for (let i = 1; i < codes.length; i++) air += this.#d(codes[i - 1]! ^ 1, codes[i]!);
    return { order, turned, air };
  }
}
