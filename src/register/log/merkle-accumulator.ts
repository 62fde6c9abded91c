import { hash } from 'node:crypto';
import { refuse } from './messages.js';

/** Length of every hash in the log: SHA-256. */
export const HASH_BYTES = 32;

/** Two hashes behind a byte 1: what RFC 9162, 2.1.1, hashes for the node above them. */
const NODE_BYTES = 1 + 2 * HASH_BYTES;

/** RFC 9162, 2.1.1: SHA-256 of a byte 1 and both children. */
export function hashPair(left: Uint8Array, right: Uint8Array): Buffer {
  const node = Buffer.alloc(NODE_BYTES, 1);
  node.set(left, 1);
  node.set(right, 1 + HASH_BYTES);
  return hash('sha256', node, 'buffer');
}

/** RFC 9162, 2.1.1: the leaf hash of an entry, as binary text (see `MerkleAccumulator`). */
export const leafHashText = (body: string): string => hash('sha256', `\0${body}`, 'binary');

/**
 * Called for each subtree as it becomes complete: its first leaf, how many levels are below its root, and the root as
 * binary text.
 */
export type OnSubtree = (start: number, level: number, root: string) => void;

/**
 * A Merkle tree (RFC 9162, 2.1.1) while it grows. It keeps only the roots of its complete subtrees, largest first: one
 * for each 1 in the binary digits of its size. That is enough to add leaves and to give the root.
 *
 * Inside, a hash is binary text: 32 characters, one for each byte. An audit makes and compares a million of them, and
 * `npm run bench -- audit-parts` shows what that form saves over buffers.
 */
export class MerkleAccumulator {
  readonly #roots: string[];
  readonly #node = Buffer.alloc(NODE_BYTES, 1);
  #size: number;

  /** Continues from roots that were kept. Throws a Refusal (exit 3) when they cannot belong to that size. */
  constructor(size = 0, roots: readonly Uint8Array[] = []) {
    if (!Number.isSafeInteger(size) || size < 0) throw new RangeError('a tree has a whole number of leaves');
    if (roots.length !== subtreeCount(size) || roots.some((root) => root.length !== HASH_BYTES))
      throw refuse('log.subtrees-do-not-fit', `log of ${size} events`, {});
    this.#roots = roots.map(toText);
    this.#size = size;
  }

  get size(): number {
    return this.#size;
  }

  /** Adds a leaf hash, not an entry. */
  add(leaf: Uint8Array, onSubtree?: OnSubtree): void {
    this.addText(toText(leaf), onSubtree);
  }

  /** The same for a leaf hash as binary text. */
  addText(leaf: string, onSubtree?: OnSubtree): void {
    if (leaf.length !== HASH_BYTES) throw new RangeError('a leaf hash has 32 bytes');
    let node = leaf;
    let start = this.#size;
    onSubtree?.(start, 0, node);
    // Each 1 at the end of the size is a complete subtree as large as the one that is now complete.
    for (let [left, level] = [this.#size, 0]; left % 2 === 1; left = (left - 1) / 2, level++) {
      start -= 2 ** level;
      node = this.#hashPair(this.#roots.pop()!, node);
      onSubtree?.(start, level + 1, node);
    }
    this.#roots.push(node);
    this.#size++;
  }

  root(): Buffer {
    return this.rootFrom(0);
  }

  /** Root of everything from one of the complete subtrees (counted from 0) to the end. */
  rootFrom(subtree: number): Buffer {
    const roots = this.#roots.slice(subtree);
    // RFC 9162, 2.1.1: the root of no leaves is the hash of nothing.
    if (roots.length === 0) return hash('sha256', '', 'buffer');
    return fromText(roots.reduceRight((right, left) => this.#hashPair(left, right)));
  }

  /** Roots of the complete subtrees, largest first. */
  roots(): Buffer[] {
    return this.#roots.map(fromText);
  }

  copy(): MerkleAccumulator {
    return new MerkleAccumulator(this.#size, this.roots());
  }

  #hashPair(left: string, right: string): string {
    this.#node.write(left, 1, 'latin1');
    this.#node.write(right, 1 + HASH_BYTES, 'latin1');
    return hash('sha256', this.#node, 'binary');
  }
}

const toText = (bytes: Uint8Array): string =>
  Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength).toString('latin1');
const fromText = (text: string): Buffer => Buffer.from(text, 'latin1');

/** How many complete subtrees a tree of this size has: the 1s in its binary digits. */
export function subtreeCount(size: number): number {
  let ones = 0;
  for (let left = size; left > 0; left = Math.floor(left / 2)) ones += left % 2;
  return ones;
}

/** Root of a tree of these leaf hashes. */
export function rootOf(leaves: Iterable<Uint8Array>): Buffer {
  const tree = new MerkleAccumulator();
  for (const leaf of leaves) tree.add(leaf);
  return tree.root();
}
