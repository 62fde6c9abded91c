import { hash } from 'node:crypto';
import { refuse } from '../../problem.js';

/** Length of every hash in the log: SHA-256. */
export const HASH_BYTES = 32;

/** RFC 9162, 2.1.1: the root of no leaves is the hash of nothing. */
const EMPTY = hash('sha256', '', 'buffer');

const pair = Buffer.alloc(1 + 2 * HASH_BYTES, 1);

/** RFC 9162, 2.1.1: SHA-256 of a byte 1 and both children. What comes before the next call has gone into the hash. */
export function joined(left: Uint8Array, right: Uint8Array): Buffer {
  pair.set(left, 1);
  pair.set(right, 1 + HASH_BYTES);
  return hash('sha256', pair, 'buffer');
}

/** Told of each complete subtree as it closes: its first leaf and how many levels stand below its root. */
export type OnSubtree = (start: number, level: number, root: Buffer) => void;

/**
 * A tree as it grows, kept only as the roots of its complete subtrees, largest first (one for each 1 in the binary
 * figures of its size). That is enough to add leaves and to give the root.
 */
export class Frontier {
  readonly #roots: Buffer[];
  #size: number;

  /** Goes on from roots that were kept. Throws a Refusal (exit 3) when they cannot belong to that size. */
  constructor(size = 0, roots: readonly Uint8Array[] = []) {
    if (!Number.isSafeInteger(size) || size < 0) throw new RangeError('a tree has a whole number of leaves');
    if (roots.length !== onesOf(size) || roots.some((root) => root.length !== HASH_BYTES)) {
      throw refuse(
        3,
        `log of ${size} events`,
        'The subtrees kept with its checkpoint do not fit its size.',
        'Sign nothing; compare the register with your last good copy.',
      );
    }
    this.#roots = roots.map((root) => Buffer.from(root));
    this.#size = size;
  }

  get size(): number {
    return this.#size;
  }

  /** A leaf hash, not an entry. */
  add(leaf: Uint8Array, onSubtree?: OnSubtree): void {
    if (leaf.length !== HASH_BYTES) throw new RangeError('a leaf hash has 32 bytes');
    let node: Buffer = Buffer.from(leaf);
    let start = this.#size;
    onSubtree?.(start, 0, node);
    // Each 1 at the end of the size is a complete subtree as large as the one that has just closed.
    for (let [left, level] = [this.#size, 0]; left % 2 === 1; left = (left - 1) / 2, level++) {
      start -= 2 ** level;
      node = joined(this.#roots.pop()!, node);
      onSubtree?.(start, level + 1, node);
    }
    this.#roots.push(node);
    this.#size++;
  }

  root(): Buffer {
    return this.rootFrom(0);
  }

  /** Root of all that stands from one of the complete subtrees on to the end. */
  rootFrom(subtree: number): Buffer {
    const roots = this.#roots.slice(subtree);
    // A copy each time: what is given away must not be a way into the tree.
    return Buffer.from(roots.length === 0 ? EMPTY : roots.reduceRight((right, left) => joined(left, right)));
  }

  /** Roots of the complete subtrees, largest first. */
  roots(): Buffer[] {
    return this.#roots.map((root) => Buffer.from(root));
  }
}

/** How many complete subtrees a tree of this size has. */
export function onesOf(size: number): number {
  let ones = 0;
  for (let left = size; left > 0; left = Math.floor(left / 2)) ones += left % 2;
  return ones;
}

/** Root of a tree of these leaf hashes. */
export function rootOf(leaves: Iterable<Uint8Array>): Buffer {
  const frontier = new Frontier();
  for (const leaf of leaves) frontier.add(leaf);
  return frontier.root();
}
