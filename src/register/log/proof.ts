import { Frontier, HASH_BYTES, joined } from './tree.js';

/** Leaves from the first on, up to but not with the end: the hash of a proof is the root of these. */
interface Span {
  readonly start: number;
  readonly end: number;
}

/** The largest power of two smaller than n. */
function halfOf(n: number): number {
  let half = 1;
  while (half * 2 < n) half *= 2;
  return half;
}

/** RFC 9162, 2.1.3.1: what the inclusion proof of a leaf is made of, nearest first. */
function inclusionSpans(index: number, size: number): Span[] {
  const spans: Span[] = [];
  let [start, end] = [0, size];
  while (end - start > 1) {
    const middle = start + halfOf(end - start);
    if (index < middle) {
      spans.push({ start: middle, end });
      end = middle;
    } else {
      spans.push({ start, end: middle });
      start = middle;
    }
  }
  return spans.reverse();
}

/** RFC 9162, 2.1.4.1: what the proof is made of that a log of `first` leaves is the beginning of one of `second`. */
function consistencySpans(first: number, second: number): Span[] {
  const spans: Span[] = [];
  let [start, end] = [0, second];
  while (end !== first) {
    const middle = start + halfOf(end - start);
    if (first <= middle) {
      spans.push({ start: middle, end });
      end = middle;
    } else {
      spans.push({ start, end: middle });
      start = middle;
    }
  }
  // The verifier knows the root of the first log itself, but not of a piece of it.
  if (start > 0) spans.push({ start, end });
  return spans.reverse();
}

/** How many levels stand below the root of a complete subtree of so many leaves; undefined when it is not complete. */
function levelOf(count: number): number | undefined {
  let [level, full] = [0, 1];
  for (; full < count; full *= 2) level++;
  return full === count ? level : undefined;
}

const keyOf = (start: number, level: number): number => start * 64 + level;

/**
 * Proofs from one pass over the leaves, however many are asked for: only the hashes that some proof holds are kept,
 * and those that several hold are kept once.
 */
export class Proofs {
  readonly #size: number;
  readonly #frontier = new Frontier();
  /** Complete subtrees that some proof holds; those at the ragged end come from the frontier. */
  readonly #wanted = new Map<number, Buffer | undefined>();

  /** Roots from one of the complete subtrees on to the end: few, and in nearly every proof. */
  readonly #ends = new Map<number, Buffer>();

  /** For a log of `size` leaves. Throws a RangeError for a leaf or an earlier size that it does not have. */
  constructor(size: number, wanted: { inclusion?: Iterable<number>; consistency?: Iterable<number> }) {
    this.#size = size;
    for (const index of wanted.inclusion ?? []) this.#want(inclusionSpans(within(index, size), size));
    for (const first of wanted.consistency ?? [])
      this.#want(consistencySpans(within(first - 1, size) + 1, size));
  }

  #want(spans: readonly Span[]): void {
    for (const { start, end } of spans) {
      const level = levelOf(end - start);
      if (level !== undefined) this.#wanted.set(keyOf(start, level), undefined);
    }
  }

  get complete(): boolean {
    return this.#frontier.size === this.#size;
  }

  /** The next leaf hash; those after the size are passed over. */
  add(leaf: Uint8Array): void {
    if (this.complete) return;
    this.#frontier.add(leaf, (start, level, root) => {
      const key = keyOf(start, level);
      if (this.#wanted.has(key)) this.#wanted.set(key, root);
    });
  }

  root(): Buffer {
    this.#mustBeComplete();
    return this.#frontier.root();
  }

  inclusion(index: number): Buffer[] {
    return this.#hashes(inclusionSpans(within(index, this.#size), this.#size));
  }

  consistency(first: number): Buffer[] {
    return this.#hashes(consistencySpans(within(first - 1, this.#size) + 1, this.#size));
  }

  #hashes(spans: readonly Span[]): Buffer[] {
    this.#mustBeComplete();
    return spans.map(({ start, end }) => {
      const level = levelOf(end - start);
      if (level === undefined) return this.#rootToEnd(start);
      const hash = this.#wanted.get(keyOf(start, level));
      if (!hash) throw new RangeError('a proof was not asked for before the leaves were read');
      return hash;
    });
  }

  #rootToEnd(start: number): Buffer {
    const known = this.#ends.get(start);
    if (known) return known;
    const root = this.#frontier.rootFrom(subtreeAt(start, this.#size));
    this.#ends.set(start, root);
    return root;
  }

  #mustBeComplete(): void {
    if (!this.complete)
      throw new RangeError(`only ${this.#frontier.size} of ${this.#size} leaves have been read`);
  }
}

function within(index: number, size: number): number {
  if (!Number.isSafeInteger(index) || index < 0 || index >= size)
    throw new RangeError(`${index} is not a leaf of a log of ${size}`);
  return index;
}

/** Which complete subtree of a tree begins at a leaf, counted from the largest. */
function subtreeAt(start: number, size: number): number {
  let [at, subtree] = [0, 0];
  for (; at < start; subtree++) at += halfOf(size - at + 1);
  return subtree;
}

/** Proof that a leaf is in the log of the first `size` of these leaf hashes. */
export function inclusionProof(leaves: readonly Uint8Array[], index: number, size = leaves.length): Buffer[] {
  const proofs = new Proofs(size, { inclusion: [index] });
  for (const leaf of leaves) proofs.add(leaf);
  return proofs.inclusion(index);
}

/** Proof that the log of the first `first` of these leaf hashes is the beginning of that of the first `second`. */
export function consistencyProof(
  leaves: readonly Uint8Array[],
  first: number,
  second = leaves.length,
): Buffer[] {
  const proofs = new Proofs(second, { consistency: [first] });
  for (const leaf of leaves) proofs.add(leaf);
  return proofs.consistency(first);
}

/** A state of the log, as a checkpoint tells it. */
export interface Tree {
  readonly size: number;
  readonly root: Uint8Array;
}

/** Walks up from a leaf as RFC 9162 does, both numbers losing their last binary figure at each level. */
class Walk {
  #node: number;
  #last: number;

  constructor(node: number, last: number) {
    this.#node = node;
    this.#last = last;
  }

  /** Skips the levels at which the node is a right child. */
  skipRight(): void {
    while (this.#node % 2 === 1) this.up();
  }

  get atTop(): boolean {
    return this.#last === 0;
  }

  /** Whether the next hash of the proof stands left of the node; leaves the levels at which it stands alone. */
  fromLeft(): boolean {
    const left = this.#node % 2 === 1 || this.#node === this.#last;
    if (left) while (this.#node % 2 === 0 && this.#node !== 0) this.up();
    return left;
  }

  up(): void {
    this.#node = Math.floor(this.#node / 2);
    this.#last = Math.floor(this.#last / 2);
  }
}

/** Says what is wrong with the hashes themselves. */
const shapeFault = (named: Readonly<Record<string, readonly Uint8Array[]>>): string | undefined =>
  Object.entries(named).flatMap(([name, hashes]) =>
    hashes.some((hash) => hash.length !== HASH_BYTES) ? [`${name} is not of 32 bytes.`] : [],
  )[0];

const isCount = (n: number): boolean => Number.isSafeInteger(n) && n >= 0;

/** RFC 9162, 2.1.3.2: undefined when the leaf is proved to be in the tree at that index, else what is wrong. */
export function inclusionFault(
  { size, root }: Tree,
  index: number,
  leaf: Uint8Array,
  proof: readonly Uint8Array[],
): string | undefined {
  if (!isCount(size) || !isCount(index)) return 'The size or the place is not a whole number.';
  if (size === 0) return 'An empty log has no events.';
  if (index >= size) return `Event ${index} is not among the first ${size}.`;
  const shape = shapeFault({ 'The root': [root], 'The leaf': [leaf], 'A hash of the proof': proof });
  if (shape) return shape;
  const walk = new Walk(index, size - 1);
  let hash = leaf;
  for (const sibling of proof) {
    if (walk.atTop) return 'The proof is too long.';
    hash = walk.fromLeft() ? joined(sibling, hash) : joined(hash, sibling);
    walk.up();
  }
  if (!walk.atTop) return 'The proof is too short.';
  return same(hash, root) ? undefined : 'The proof does not lead to the root.';
}

/**
 * RFC 9162, 2.1.4.2: undefined when the first log is proved to be the beginning of the second, else what is wrong.
 * Of an empty log nothing can be proved, and it is refused.
 */
export function consistencyFault(
  first: Tree,
  second: Tree,
  proof: readonly Uint8Array[],
): string | undefined {
  if (!isCount(first.size) || !isCount(second.size)) return 'A size is not a whole number.';
  if (first.size === 0 || second.size === 0) return 'Nothing can be proved of an empty log.';
  if (first.size > second.size)
    return `A log of ${first.size} is not the beginning of one of ${second.size}.`;
  const shape = shapeFault({ 'A root': [first.root, second.root], 'A hash of the proof': proof });
  if (shape) return shape;
  if (first.size === second.size) {
    if (proof.length > 0) return 'The proof is too long.';
    return same(first.root, second.root) ? undefined : 'Two logs of one size have different roots.';
  }
  const walk = new Walk(first.size - 1, second.size - 1);
  walk.skipRight();
  const path = levelOf(first.size) !== undefined ? [first.root, ...proof] : proof;
  const [start, ...rest] = path;
  if (!start || proof.length === 0) return 'The proof is too short.';
  let [before, after] = [start, start];
  for (const sibling of rest) {
    if (walk.atTop) return 'The proof is too long.';
    if (walk.fromLeft()) {
      before = joined(sibling, before);
      after = joined(sibling, after);
    } else after = joined(after, sibling);
    walk.up();
  }
  if (!walk.atTop) return 'The proof is too short.';
  if (!same(before, first.root)) return 'The proof does not lead to the root of the first log.';
  return same(after, second.root) ? undefined : 'The proof does not lead to the root of the second log.';
}

const same = (one: Uint8Array, other: Uint8Array): boolean => Buffer.compare(one, other) === 0;
