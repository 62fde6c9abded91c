import { hash } from 'node:crypto';

/**
 * A Merkle tree (RFC 9162, 2.1.1) as it grows: only the roots of its complete subtrees, largest first. Hashes are
 * texts of 32 characters, a byte each: they are made and compared far faster than buffers.
 */
export class Growth {
  readonly #roots: string[] = [];
  #size = 0;

  get size(): number {
    return this.#size;
  }

  add(leaf: string): void {
    let node = leaf;
    // Each 1 at the end of the size is a complete subtree as large as what is now joined to it.
    for (let size = this.#size; size % 2 === 1; size = (size - 1) / 2)
      node = joined(this.#roots.pop()!, node);
    this.#roots.push(node);
    this.#size++;
  }

  root(): Buffer {
    if (this.#size === 0) return Buffer.from(hash('sha256', '', 'hex'), 'hex');
    return Buffer.from(
      this.#roots.reduceRight((right, left) => joined(left, right)),
      'latin1',
    );
  }

  /** Roots of the complete subtrees, largest first. */
  frontier(): Buffer[] {
    return this.#roots.map((root) => Buffer.from(root, 'latin1'));
  }

  copy(): Growth {
    const copy = new Growth();
    copy.#roots.push(...this.#roots);
    copy.#size = this.#size;
    return copy;
  }
}

const pair = Buffer.alloc(65, 1);

function joined(left: string, right: string): string {
  pair.write(left, 1, 'latin1');
  pair.write(right, 33, 'latin1');
  return hash('sha256', pair, 'binary');
}

/** The leaf hash of an event (RFC 9162, 2.1.1). */
export const leafText = (body: string): string => hash('sha256', `\0${body}`, 'binary');
