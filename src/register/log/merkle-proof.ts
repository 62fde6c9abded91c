import type { Problem } from '../../problem.js';
import { HASH_BYTES, hashPair, MerkleAccumulator } from './merkle-accumulator.js';
import { problem } from './messages.js';

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

/** How many levels stand below the root of a complete subtree of this many leaves; undefined when it is not complete. */
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
  readonly #tree = new MerkleAccumulator();
  /** Complete subtrees that some proof holds; those at the incomplete end come from the accumulator. */
  readonly #wanted = new Map<number, string | undefined>();

  /** Roots from one of the complete subtrees on to the end: few, and in nearly every proof. */
  readonly #ends = new Map<number, Buffer>();

  /** For a log of `size` leaves. Throws a RangeError for a leaf or an earlier size that it does not have. */
  constructor(size: number, requested: { inclusion?: Iterable<number>; consistency?: Iterable<number> }) {
    this.#size = size;
    for (const index of requested.inclusion ?? [])
      this.#want(inclusionSpans(assertLeafIndex(index, size), size));
    for (const first of requested.consistency ?? [])
      this.#want(consistencySpans(assertLeafIndex(first - 1, size) + 1, size));
  }

  #want(spans: readonly Span[]): void {
    for (const { start, end } of spans) {
      const level = levelOf(end - start);
      if (level !== undefined) this.#wanted.set(keyOf(start, level), undefined);
    }
  }

  get complete(): boolean {
    return this.#tree.size === this.#size;
  }

  /** The next leaf hash; those after the size are passed over. */
  add(leaf: Uint8Array): void {
    if (this.complete) return;
    this.#tree.add(leaf, (start, level, root) => {
      const key = keyOf(start, level);
      if (this.#wanted.has(key)) this.#wanted.set(key, root);
    });
  }

  root(): Buffer {
    this.#mustBeComplete();
    return this.#tree.root();
  }

  inclusion(index: number): Buffer[] {
    return this.#hashes(inclusionSpans(assertLeafIndex(index, this.#size), this.#size));
  }

  consistency(first: number): Buffer[] {
    return this.#hashes(consistencySpans(assertLeafIndex(first - 1, this.#size) + 1, this.#size));
  }

  #hashes(spans: readonly Span[]): Buffer[] {
    this.#mustBeComplete();
    return spans.map(({ start, end }) => {
      const level = levelOf(end - start);
      if (level === undefined) return this.#rootToEnd(start);
      const hash = this.#wanted.get(keyOf(start, level));
      if (!hash) throw new RangeError('a proof was not asked for before the leaves were read');
      return Buffer.from(hash, 'latin1');
    });
  }

  #rootToEnd(start: number): Buffer {
    const known = this.#ends.get(start);
    if (known) return known;
    const root = this.#tree.rootFrom(subtreeAt(start, this.#size));
    this.#ends.set(start, root);
    return root;
  }

  #mustBeComplete(): void {
    if (!this.complete)
      throw new RangeError(`only ${this.#tree.size} of ${this.#size} leaves have been read`);
  }
}

function assertLeafIndex(index: number, size: number): number {
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

/** Walks up from a leaf as RFC 9162 does, both numbers losing their last binary digit at each level. */
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

/** What is wrong with the lengths of the hashes. */
const lengthProblem = (hashes: Readonly<Record<string, readonly Uint8Array[]>>): Problem | undefined =>
  Object.entries(hashes).flatMap(([part, some]) =>
    some.some((hash) => hash.length !== HASH_BYTES) ? [problem('log.proof-hash-length', '', { part })] : [],
  )[0];

const fault = (code: 'log.proof-not-whole' | 'log.proof-of-empty-log' | 'log.roots-differ'): Problem =>
  problem(code, '', {});
const tooLong = (): Problem => problem('log.proof-too-long', '', {});
const tooShort = (): Problem => problem('log.proof-too-short', '', {});
const rootDiffers = (of: 'only' | 'first' | 'second'): Problem =>
  problem('log.proof-root-differs', '', { of });

const isCount = (n: number): boolean => Number.isSafeInteger(n) && n >= 0;

/** RFC 9162, 2.1.3.2: undefined when the leaf is proved to be in the tree at that index, else what is wrong. */
export function inclusionProblem(
  { size, root }: Tree,
  index: number,
  leaf: Uint8Array,
  proof: readonly Uint8Array[],
): Problem | undefined {
  if (!isCount(size) || !isCount(index)) return fault('log.proof-not-whole');
  if (size === 0) return fault('log.proof-of-empty-log');
  if (index >= size) return problem('log.proof-place-past-end', '', { index, size });
  const wrongLength = lengthProblem({ root: [root], leaf: [leaf], proof });
  if (wrongLength) return wrongLength;
  const walk = new Walk(index, size - 1);
  let hash = leaf;
  for (const sibling of proof) {
    if (walk.atTop) return tooLong();
    hash = walk.fromLeft() ? hashPair(sibling, hash) : hashPair(hash, sibling);
    walk.up();
  }
  if (!walk.atTop) return tooShort();
  return same(hash, root) ? undefined : rootDiffers('only');
}

/**
 * RFC 9162, 2.1.4.2: undefined when the first log is proved to be the beginning of the second, else what is wrong.
 * Of an empty log nothing can be proved, and it is refused.
 */
export function consistencyProblem(
  first: Tree,
  second: Tree,
  proof: readonly Uint8Array[],
): Problem | undefined {
  if (!isCount(first.size) || !isCount(second.size)) return fault('log.proof-not-whole');
  if (first.size === 0 || second.size === 0) return fault('log.proof-of-empty-log');
  if (first.size > second.size)
    return problem('log.proof-sizes-descend', '', { first: first.size, second: second.size });
  const wrongLength = lengthProblem({ root: [first.root, second.root], proof });
  if (wrongLength) return wrongLength;
  if (first.size === second.size) {
    if (proof.length > 0) return tooLong();
    return same(first.root, second.root) ? undefined : fault('log.roots-differ');
  }
  const walk = new Walk(first.size - 1, second.size - 1);
  walk.skipRight();
  const path = levelOf(first.size) !== undefined ? [first.root, ...proof] : proof;
  const [start, ...rest] = path;
  if (!start || proof.length === 0) return tooShort();
  let [before, after] = [start, start];
  for (const sibling of rest) {
    if (walk.atTop) return tooLong();
    if (walk.fromLeft()) {
      before = hashPair(sibling, before);
      after = hashPair(sibling, after);
    } else after = hashPair(after, sibling);
    walk.up();
  }
  if (!walk.atTop) return tooShort();
  if (!same(before, first.root)) return rootDiffers('first');
  return same(after, second.root) ? undefined : rootDiffers('second');
}

const same = (one: Uint8Array, other: Uint8Array): boolean => Buffer.compare(one, other) === 0;
