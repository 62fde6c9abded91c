import { ByHeight } from './tour-heights.js';

/** The distance between two points, mm. Points are numbered two to a line: 2i where line i begins, 2i + 1 where it ends. */
export type DistanceBetween = (p: number, q: number) => number;

/** Lines to run one after another. */
export interface Lines {
  readonly count: number;
  readonly distanceBetween: DistanceBetween;
  /** False keeps every line running the way it was drawn. */
  readonly eitherWay: boolean;
  /** A height of each point: no two points are nearer than their heights differ, and what is too high or low is not asked for. */
  readonly heightOf: (point: number) => number;
}

/** Lines in order, and which of them run from their last point to their first. */
export interface Tour {
  readonly order: Int32Array;
  readonly turned: Uint8Array;
  /** Moves in the air between the lines, mm. */
  readonly air: number;
  /** Distances that the search asked for. */
  readonly steps: number;
}

const NEIGHBOURS = 10;
const LONGEST_MOVED = 3;
const LEAST_GAIN_MM = 1e-9;

/**
 * A line in the tour is a code: twice its index, plus 1 when it is turned round. It is entered at point `code` and
 * left at point `code ^ 1`, points being numbered two to a line. The tour is a ring closed by one more line of no
 * place, at no distance from anything: where it stands, the way begins and ends.
 */
export class Search {
  readonly #n: number;
  readonly #size: number;
  readonly #way: boolean;
  readonly #d: DistanceBetween;
  readonly #near: Int32Array;
  readonly #per: number;
  readonly #heightOf: Lines['heightOf'];
  readonly #ring: Int32Array;
  readonly #at: Int32Array;
  readonly #todo: Int32Array;
  readonly #queued: Uint8Array;
  #head = 0;
  #count = 0;
  /** What the moves since it was last set to zero have taken off the length, mm. */
  #gained = 0;

  #steps = 0;
  readonly #mostSteps: number;

  constructor({ count: n, distanceBetween, eitherWay, heightOf }: Lines, mostSteps: number) {
    this.#mostSteps = mostSteps;
    this.#n = n;
    this.#size = n + 1;
    this.#way = eitherWay;
    const nowhere = 2 * n;
    this.#d = (p, q) => {
      this.#steps++;
      return p >= nowhere || q >= nowhere ? 0 : distanceBetween(p, q);
    };
    this.#per = Math.min(NEIGHBOURS, n - 1) * (eitherWay ? 2 : 1);
    this.#heightOf = heightOf;
    this.#near = nearestNeighbours(n, this.#per, { distanceBetween, eitherWay, heightOf });
    this.#ring = Int32Array.from({ length: n + 1 }, (_, i) => 2 * i);
    this.#at = new Int32Array(n + 1);
    this.#todo = new Int32Array(n + 1);
    this.#queued = new Uint8Array(n + 1);
  }

  /** From the first line, always the nearest next; of equals the one that comes first. */
  greedy(): void {
    const ring = this.#ring;
    ring[0] = 2 * this.#n;
    ring[1] = 0;
    const codes = Int32Array.from({ length: this.#way ? 2 * this.#n : this.#n }, (_, i) =>
      this.#way ? i : 2 * i,
    );
    const left = new ByHeight(codes, this.#heightOf);
    const use = (line: number): void => {
      left.remove(2 * line);
      if (this.#way) left.remove(2 * line + 1);
    };
    use(0);
    for (let i = 2; i < this.#size; i++) {
      const out = ring[i - 1]! ^ 1;
      let best = Number.POSITIVE_INFINITY;
      left.visit(this.#heightOf(out), (code) => {
        const d = this.#d(out, code);
        if (d < best || (d === best && code < ring[i]!)) {
          best = d;
          ring[i] = code;
        }
        return best;
      });
      use(ring[i]! >> 1);
    }
    for (let i = 0; i < this.#size; i++) this.#at[ring[i]! >> 1] = i;
  }

  improveAll(): void {
    for (let line = 0; line < this.#size; line++) this.#queue(line);
    this.#improve();
  }

  /** Works through the lines whose neighbourhood changed until no move helps any of them. */
  #improve(): void {
    while (this.#count > 0 && this.#steps < this.#mostSteps) {
      const line = this.#todo[this.#head]!;
      this.#head = (this.#head + 1) % this.#size;
      this.#count--;
      this.#queued[line] = 0;
      while (this.#steps < this.#mostSteps && this.#betterAt(line));
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
      const gain = cut + this.#d(r, after) - d - this.#d(next, after);
      if (gain > LEAST_GAIN_MM) {
        this.#gained += gain;
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
      const gain = cutIn + this.#d(ahead, r) - d - this.#d(before, ahead);
      if (gain > LEAST_GAIN_MM) {
        this.#gained += gain;
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
      if (this.#place(i, length, first, last ^ 1, gain, false)) return true;
      if (this.#way && this.#place(i, length, last ^ 1, first, gain, true)) return true;
    }
    return false;
  }

  /** Puts a stretch, entered at `head` and left at `tail`, where either meets a near point and less is lost than won. */
  #place(i: number, length: number, head: number, tail: number, gain: number, turned: boolean): boolean {
    const size = this.#size;
    for (const end of [head, tail]) {
      if (end >= 2 * this.#n) continue;
      for (let k = 0; k < this.#per; k++) {
        const r = this.#near[end * this.#per + k]!;
        if (this.#d(end, r) >= gain) break;
        // After the line that is left at r, or before the one that is entered there.
        const at = this.#at[r >> 1]!;
        if (this.#ring[at]! !== (end === head ? r ^ 1 : r)) continue;
        const j = end === head ? at : (at - 1 + size) % size;
        if ((at - i + size) % size < length || (j - i + size) % size < length) continue;
        const [here, next] = [this.#code(j) ^ 1, this.#code(j + 1)];
        if ((j + 1) % size === i) continue;
        const cost = this.#d(here, head) + this.#d(tail, next) - this.#d(here, next);
        if (cost >= gain - LEAST_GAIN_MM) continue;
        this.#gained += gain - cost;
        this.#carry(i, length, j, turned);
        return true;
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

  /** The length of the ring where the codes at these positions follow what stands before them. */
  #before(...at: number[]): number {
    return at.reduce((sum, i) => sum + this.#d(this.#code(i - 1) ^ 1, this.#code(i)), 0);
  }

  /** Two near stretches change places; what the search makes of it is kept when the ring is shorter for it. */
  kicks(count: number): void {
    const size = this.#size;
    if (size < 4) return;
    let seed = 88_172_645;
    const draw = (below: number) => {
      // Numbers that only look like chance (Park and Miller 1988): always the same ones.
      seed = (seed * 48_271) % 2_147_483_647;
      return seed % below;
    };
    const saved = Int32Array.from(this.#ring);
    for (let k = 0; k < count && this.#steps < this.#mostSteps; k++) {
      const reach = Math.max(1, Math.min(50, (size - 2) >> 1));
      const a = draw(size);
      const one = 1 + draw(reach);
      const two = 1 + draw(Math.max(1, Math.min(reach, size - 1 - one)));
      const edges = [a, a + two, a + one + two] as const;
      this.#gained = this.#before(a, a + one, a + one + two);
      const codes = Array.from({ length: one + two }, (_, i) => this.#code(a + i));
      for (const at of [a - 1, a, a + one - 1, a + one, a + one + two - 1, a + one + two])
        this.#queue(this.#code(at) >> 1);
      const swapped = [...codes.slice(one), ...codes.slice(0, one)];
      for (const [i, code] of swapped.entries()) this.#put((a + i) % size, code);
      this.#gained -= this.#before(...edges);
      this.#improve();
      if (this.#gained > LEAST_GAIN_MM) {
        saved.set(this.#ring);
      } else {
        for (let i = 0; i < size; i++) this.#put(i, saved[i]!);
      }
    }
  }

  tour(): Tour {
    const start = this.#at[this.#n]!;
    // The line of no place may itself stand turned: the way is as short.
    const codes = Int32Array.from({ length: this.#n }, (_, i) => this.#code(start + 1 + i));
    const order = codes.map((code) => code >> 1);
    const turned = Uint8Array.from(codes, (code) => code & 1);
    let air = 0;
    for (let i = 1; i < codes.length; i++) air += this.#d(codes[i - 1]! ^ 1, codes[i]!);
    return { order, turned, air, steps: this.#steps };
  }
}

/** For each point, the `per` points of other lines nearest to it, nearest first, of equals the one that comes first. */
function nearestNeighbours(
  lines: number,
  per: number,
  { distanceBetween, eitherWay, heightOf }: Omit<Lines, 'count'>,
): Int32Array {
  const near = new Int32Array(2 * lines * per);
  const distances = new Float64Array(per);
  const all = new ByHeight(
    Int32Array.from({ length: 2 * lines }, (_, p) => p),
    heightOf,
  );
  for (let p = 0; p < 2 * lines; p++) {
    const row = p * per;
    let held = 0;
    const farthest = () => (held < per ? Number.POSITIVE_INFINITY : distances[per - 1]!);
    all.visit(heightOf(p), (q) => {
      // Kept the way it runs, an end can only meet a beginning.
      if (q >> 1 === p >> 1 || !(eitherWay || (q ^ p) & 1)) return farthest();
      const d = distanceBetween(p, q);
      const isAfter = (k: number) => distances[k]! > d || (distances[k]! === d && near[row + k]! > q);
      if (held === per && !isAfter(per - 1)) return farthest();
      let k = held < per ? held++ : held - 1;
      for (; k > 0 && isAfter(k - 1); k--) {
        distances[k] = distances[k - 1]!;
        near[row + k] = near[row + k - 1]!;
      }
      distances[k] = d;
      near[row + k] = q;
      return farthest();
    });
  }
  return near;
}
