import { createHash } from 'node:crypto';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Problem } from '../../src/problem.js';
import { leafHash } from '../../src/register/event.js';
import { MerkleAccumulator, rootOf } from '../../src/register/log/merkle-accumulator.js';
import {
  consistencyProblem,
  consistencyProof,
  inclusionProblem,
  inclusionProof,
  Proofs,
} from '../../src/register/log/merkle-proof.js';

/**
 * RFC 9162, section 2.1 (the same trees as RFC 6962, section 2.1). The eight entries and the roots are the test vectors
 * published with the reference implementation of RFC 6962; the two example trees and their proofs are those of RFC
 * 9162, 2.1.5, from memory.
 */
const ENTRIES = [
  '',
  '00',
  '10',
  '2021',
  '3031',
  '40414243',
  '5051525354555657',
  '606162636465666768696a6b6c6d6e6f',
].map((hex) => Buffer.from(hex, 'hex'));

const ROOTS = [
  'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855',
  '6e340b9cffb37a989ca544e6bb780a2c78901d3fb33738768511a30617afa01d',
  'fac54203e7cc696cf0dfcb42c92a1d9dbaf70ad9e621f4bd8d98662f00e3c125',
  'aeb6bcfe274b70a14fb067a5e5578264db0fa9b51af5e0ba159158f329e06e77',
  'd37ee418976dd95753c1c73862b9398fa2a2cf9b4ff0fdfe8b30cd95209614b7',
  '4e3bbb1f7b478dcfe71fb631631519a3bca12c9aefca1612bfce4c13a86264d4',
  '76e67dadbcdf1e10e1b74ddc608abd2f98dfb16fbce75277b5232a127f2087ef',
  'ddb89be403809e325750d3d263cd78929c2942b7942a34b77e122c9594a74c8c',
  '5dc9da79a70659a9ad559cb701ded9a2ab9d823aad2f4960cfe370eff4604328',
];

const sha256 = (...parts: Uint8Array[]): Buffer =>
  parts.reduce((hash, part) => hash.update(part), createHash('sha256')).digest();
const leafOf = (entry: Uint8Array): Buffer => sha256(Buffer.of(0), entry);
const node = (left: Uint8Array, right: Uint8Array): Buffer => sha256(Buffer.of(1), left, right);

/** The definitions of 2.1.1, 2.1.3.1 and 2.1.4.1 as they stand there, over leaf hashes: slow, and sharing no code. */
const split = (n: number): number => 2 ** Math.ceil(Math.log2(n) - 1);
function MTH(d: readonly Buffer[]): Buffer {
  if (d.length === 0) return sha256();
  if (d.length === 1) return d[0]!;
  const k = split(d.length);
  return node(MTH(d.slice(0, k)), MTH(d.slice(k)));
}
function PATH(m: number, d: readonly Buffer[]): Buffer[] {
  if (d.length === 1) return [];
  const k = split(d.length);
  return m < k
    ? [...PATH(m, d.slice(0, k)), MTH(d.slice(k))]
    : [...PATH(m - k, d.slice(k)), MTH(d.slice(0, k))];
}
function SUBPROOF(m: number, d: readonly Buffer[], b: boolean): Buffer[] {
  if (m === d.length) return b ? [] : [MTH(d)];
  const k = split(d.length);
  return m <= k
    ? [...SUBPROOF(m, d.slice(0, k), b), MTH(d.slice(k))]
    : [...SUBPROOF(m - k, d.slice(k), false), MTH(d.slice(0, k))];
}

const UP_TO = 64;
const leaves = Array.from({ length: UP_TO }, (_, i) => leafOf(Buffer.from(`entry ${i}`)));
const tree = (size: number) => ({ size, root: MTH(leaves.slice(0, size)) });
const trees = Array.from({ length: UP_TO + 1 }, (_, size) => tree(size));
const hex = (hashes: readonly Uint8Array[]): string[] => hashes.map((h) => Buffer.from(h).toString('hex'));

describe('roots in print', () => {
  test.each(ROOTS.map((root, size) => [size, root] as const))('of %i entries', (size, root) => {
    expect(rootOf(ENTRIES.slice(0, size).map(leafOf)).toString('hex')).toBe(root);
  });

  test('the leaf of an event is that of its text', () => {
    expect(leafHash('').toString('hex')).toBe(ROOTS[1]);
    expect(leafHash('{"é":1}')).toEqual(leafOf(Buffer.from('{"é":1}', 'utf8')));
  });
});

describe('the examples of 2.1.5', () => {
  const d = ENTRIES.slice(0, 7).map(leafOf) as [Buffer, Buffer, Buffer, Buffer, Buffer, Buffer, Buffer];
  const [a, b, c, dd, e, f, j] = d;
  const [g, h, i] = [node(a, b), node(c, dd), node(e, f)];
  const [k, l] = [node(g, h), node(i, j)];

  test.each([
    [0, [b, h, l]],
    [3, [c, g, l]],
    [4, [f, j, k]],
    [6, [i, k]],
  ])('inclusion of d%i in seven', (index, proof) => {
    expect(hex(inclusionProof(d, index))).toEqual(hex(proof));
  });

  test.each([
    [3, [c, dd, g, l]],
    [4, [l]],
    [6, [i, j, k]],
  ])('%i entries are the beginning of seven', (first, proof) => {
    expect(hex(consistencyProof(d, first))).toEqual(hex(proof));
  });
});

describe(`every tree up to ${UP_TO} leaves`, () => {
  test('has the root of the definition, leaf by leaf and gone on with from its kept subtrees', () => {
    const growing = new MerkleAccumulator();
    for (let size = 0; size <= UP_TO; size++) {
      expect(growing.root()).toEqual(trees[size]!.root);
      expect(rootOf(leaves.slice(0, size))).toEqual(trees[size]!.root);
      const resumed = new MerkleAccumulator(size, growing.roots());
      for (const leaf of leaves.slice(size)) resumed.add(leaf);
      expect(resumed.root()).toEqual(trees[UP_TO]!.root);
      if (size < UP_TO) growing.add(leaves[size]!);
    }
  });

  test('has the inclusion proofs of the definition, and they are accepted', () => {
    for (let size = 1; size <= UP_TO; size++) {
      const proofs = new Proofs(size, { inclusion: Array(size).keys() });
      for (const leaf of leaves) proofs.add(leaf);
      expect(proofs.root()).toEqual(trees[size]!.root);
      for (let index = 0; index < size; index++) {
        const proof = proofs.inclusion(index);
        expect(hex(proof)).toEqual(hex(PATH(index, leaves.slice(0, size))));
        expect(inclusionProblem(trees[size]!, index, leaves[index]!, proof)).toBeUndefined();
      }
    }
  });

  test('has the consistency proofs of the definition, and they are accepted', () => {
    for (let second = 1; second <= UP_TO; second++) {
      const firsts = Array.from({ length: second }, (_, i) => i + 1);
      const proofs = new Proofs(second, { consistency: firsts });
      for (const leaf of leaves) proofs.add(leaf);
      for (const first of firsts) {
        const proof = proofs.consistency(first);
        expect(hex(proof)).toEqual(hex(SUBPROOF(first, leaves.slice(0, second), true)));
        expect(consistencyProblem(trees[first]!, trees[second]!, proof)).toBeUndefined();
      }
    }
  });

  test('accepts no inclusion proof for another place, leaf, size or root', () => {
    for (let size = 1; size <= 20; size++) {
      for (let index = 0; index < size; index++) {
        const proof = inclusionProof(leaves, index, size);
        for (let other = 0; other < size; other++) {
          if (other === index) continue;
          expect(inclusionProblem(trees[size]!, other, leaves[index]!, proof)).toBeDefined();
          expect(inclusionProblem(trees[size]!, index, leaves[other]!, proof)).toBeDefined();
        }
        for (let other = 0; other <= 21; other++) {
          if (other === size) continue;
          expect(inclusionProblem(trees[other]!, index, leaves[index]!, proof)).toBeDefined();
        }
      }
    }
  });

  test('accepts no consistency proof between other sizes', () => {
    for (let second = 1; second <= 16; second++) {
      for (let first = 1; first < second; first++) {
        const proof = consistencyProof(leaves, first, second);
        for (let other = 0; other <= 17; other++) {
          if (other !== first)
            expect(consistencyProblem(trees[other]!, trees[second]!, proof), `${other}`).toBeDefined();
          if (other !== second)
            expect(consistencyProblem(trees[first]!, trees[other]!, proof), `${other}`).toBeDefined();
        }
      }
    }
  });
});

describe('a proof of which one thing is wrong is refused', () => {
  const [size, index] = [13, 6];
  const proof = inclusionProof(leaves, index, size);
  const leaf = leaves[index]!;
  const at = trees[size]!;
  const flipped = (hash: Uint8Array): Buffer => {
    const copy = Buffer.from(hash);
    copy[31]! ^= 1;
    return copy;
  };

  test('the proof itself is right', () => {
    expect(inclusionProblem(at, index, leaf, proof)).toBeUndefined();
    expect(proof).toHaveLength(4);
  });

  test.each<[string, () => Problem | undefined, RegExp]>([
    [
      'a hash too many at the end',
      () => inclusionProblem(at, index, leaf, [...proof, leaf]),
      /proof-too-long/,
    ],
    [
      'a hash too many at the start',
      () => inclusionProblem(at, index, leaf, [leaf, ...proof]),
      /proof-too-long/,
    ],
    [
      'a hash too few at the end',
      () => inclusionProblem(at, index, leaf, proof.slice(0, -1)),
      /proof-too-short/,
    ],
    [
      'a hash too few at the start',
      () => inclusionProblem(at, index, leaf, proof.slice(1)),
      /proof-too-short/,
    ],
    ['no hash at all', () => inclusionProblem(at, index, leaf, []), /proof-too-short/],
    ['its hashes turned about', () => inclusionProblem(at, index, leaf, proof.toReversed()), /root-differs/],
    [
      'one bit of its last hash',
      () => inclusionProblem(at, index, leaf, proof.with(3, flipped(proof[3]!))),
      /root-differs/,
    ],
    [
      'one bit of its first hash',
      () => inclusionProblem(at, index, leaf, proof.with(0, flipped(proof[0]!))),
      /root-differs/,
    ],
    [
      'a hash cut short',
      () => inclusionProblem(at, index, leaf, proof.with(1, proof[1]!.subarray(1))),
      /proof-hash-length/,
    ],
    ['another leaf', () => inclusionProblem(at, index, leaves[7]!, proof), /root-differs/],
    ['one bit of the leaf', () => inclusionProblem(at, index, flipped(leaf), proof), /root-differs/],
    ['a leaf cut short', () => inclusionProblem(at, index, leaf.subarray(1), proof), /proof-hash-length/],
    ['the place of its neighbour', () => inclusionProblem(at, 7, leaf, proof), /root-differs/],
    ['a place past the end', () => inclusionProblem(at, size, leaf, proof), /proof-place-past-end/],
    ['a place before the start', () => inclusionProblem(at, -1, leaf, proof), /proof-not-whole/],
    ['half a place', () => inclusionProblem(at, 6.5, leaf, proof), /proof-not-whole/],
    ['a place beyond counting', () => inclusionProblem(at, 2 ** 53, leaf, proof), /proof-not-whole/],
    ['an empty log', () => inclusionProblem({ size: 0, root: at.root }, 0, leaf, []), /proof-of-empty-log/],
    ['a smaller size', () => inclusionProblem({ ...at, size: 8 }, index, leaf, proof), /proof-too-long/],
    ['a larger size', () => inclusionProblem({ ...at, size: 17 }, index, leaf, proof), /proof-too-short/],
    [
      'a size that is none',
      () => inclusionProblem({ ...at, size: Number.NaN }, index, leaf, proof),
      /proof-not-whole/,
    ],
    [
      'the root of another size',
      () => inclusionProblem({ size, root: trees[12]!.root }, index, leaf, proof),
      /root-differs/,
    ],
    [
      'one bit of the root',
      () => inclusionProblem({ size, root: flipped(at.root) }, index, leaf, proof),
      /root-differs/,
    ],
    [
      'no root',
      () => inclusionProblem({ size, root: Buffer.alloc(0) }, index, leaf, proof),
      /proof-hash-length/,
    ],
    // Second preimage: an interior hash shown as if it were a leaf must not be taken for one.
    [
      'an interior hash for a leaf',
      () => inclusionProblem(at, 3, node(leaves[6]!, leaves[7]!), proof.slice(1)),
      /proof-too-short/,
    ],
    [
      'an entry hashed without its zero byte',
      () => inclusionProblem(at, index, sha256(Buffer.from('entry 6')), proof),
      /root-differs/,
    ],
  ])('inclusion: %s', (_, fault, reason) => {
    const found = fault();
    expect(`${found?.code} ${found?.values.of}`).toMatch(reason);
  });

  const [first, second] = [trees[6]!, trees[13]!];
  const between = consistencyProof(leaves, 6, 13);
  const powerOfTwo = consistencyProof(leaves, 8, 13);

  test('the consistency proofs themselves are right', () => {
    expect(consistencyProblem(first, second, between)).toBeUndefined();
    expect(consistencyProblem(trees[8]!, second, powerOfTwo)).toBeUndefined();
  });

  test.each<[string, () => Problem | undefined, RegExp]>([
    [
      'a hash too many at the end',
      () => consistencyProblem(first, second, [...between, leaf]),
      /proof-too-long/,
    ],
    [
      'a hash too few at the end',
      () => consistencyProblem(first, second, between.slice(0, -1)),
      /proof-too-short/,
    ],
    ['no hash at all', () => consistencyProblem(first, second, []), /proof-too-short/],
    ['no hash at all, for a full tree', () => consistencyProblem(trees[8]!, second, []), /proof-too-short/],
    [
      'a hash too many for a full tree',
      () => consistencyProblem(trees[8]!, second, [trees[8]!.root, ...powerOfTwo]),
      /proof-too-long/,
    ],
    [
      'its hashes turned about',
      () => consistencyProblem(first, second, between.toReversed()),
      /root-differs/,
    ],
    [
      'one bit of its first hash',
      () => consistencyProblem(first, second, between.with(0, flipped(between[0]!))),
      /root-differs first/,
    ],
    // The last hash stands right of all that the first log has: only the second root can tell.
    [
      'one bit of its last hash',
      () => consistencyProblem(first, second, between.with(-1, flipped(between.at(-1)!))),
      /root-differs second/,
    ],
    [
      'a hash cut short',
      () => consistencyProblem(first, second, between.with(0, between[0]!.subarray(1))),
      /proof-hash-length/,
    ],
    [
      'the first root altered',
      () => consistencyProblem({ size: 6, root: flipped(first.root) }, second, between),
      /root-differs first/,
    ],
    [
      'the second root altered',
      () => consistencyProblem(first, { size: 13, root: flipped(second.root) }, between),
      /root-differs second/,
    ],
    [
      'the roots exchanged',
      () => consistencyProblem({ size: 6, root: second.root }, { size: 13, root: first.root }, between),
      /root-differs/,
    ],
    ['the first larger than the second', () => consistencyProblem(second, first, between), /sizes-descend/],
    ['an empty first log', () => consistencyProblem(trees[0]!, second, []), /proof-of-empty-log/],
    ['both logs empty', () => consistencyProblem(trees[0]!, trees[0]!, []), /proof-of-empty-log/],
    ['a negative size', () => consistencyProblem({ ...first, size: -6 }, second, between), /proof-not-whole/],
    [
      'one size and two roots',
      () => consistencyProblem({ size: 13, root: first.root }, second, []),
      /roots-differ/,
    ],
    ['one size and a proof', () => consistencyProblem(second, second, between), /proof-too-long/],
    [
      'history rewritten: an early leaf altered',
      () => {
        const forged = leaves.slice(0, 13).with(2, leafOf(Buffer.from('another entry 2')));
        return consistencyProblem(first, { size: 13, root: MTH(forged) }, SUBPROOF(6, forged, true));
      },
      /root-differs first/,
    ],
    [
      'history rewritten: a leaf put in between',
      () => {
        const forged = [...leaves.slice(0, 3), leafOf(Buffer.from('slipped in')), ...leaves.slice(3, 12)];
        return consistencyProblem(first, { size: 13, root: MTH(forged) }, SUBPROOF(6, forged, true));
      },
      /root-differs first/,
    ],
    [
      'history rewritten: two leaves exchanged',
      () => {
        const forged = leaves.slice(0, 13).with(1, leaves[2]!).with(2, leaves[1]!);
        return consistencyProblem(first, { size: 13, root: MTH(forged) }, SUBPROOF(6, forged, true));
      },
      /root-differs first/,
    ],
  ])('consistency: %s', (_, fault, reason) => {
    const found = fault();
    expect(`${found?.code} ${found?.values.of}`).toMatch(reason);
  });
});

test('large logs: proofs of chance places and sizes are accepted, and others are not', () => {
  const size = 3000;
  const many = Array.from({ length: size }, (_, i) => leafOf(Buffer.from(String(i))));
  const at = { size, root: rootOf(many) };
  fc.assert(
    fc.property(fc.nat(size - 1), fc.nat(size - 1), (index, other) => {
      const proof = inclusionProof(many, index);
      expect(inclusionProblem(at, index, many[index]!, proof)).toBeUndefined();
      if (other !== index) expect(inclusionProblem(at, other, many[index]!, proof)).toBeDefined();
      const first = { size: other + 1, root: rootOf(many.slice(0, other + 1)) };
      expect(consistencyProblem(first, at, consistencyProof(many, other + 1))).toBeUndefined();
    }),
    { numRuns: 60 },
  );
});
