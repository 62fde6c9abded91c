import { createHash } from 'node:crypto';
import { describe, expect, test } from 'vitest';
import type { Refusal } from '../../../src/problem.js';
import { proveEvents } from '../../../src/register/log/event-proofs.js';
import { rootOf } from '../../../src/register/log/merkle-accumulator.js';
import { inclusionProblem, inclusionProof } from '../../../src/register/log/merkle-proof.js';

const leaves = Array.from({ length: 37 }, (_, i) => createHash('sha256').update(`${i}`).digest());
let read = 0;
const register = (rows = leaves) => ({
  async *events() {
    for (const [seq, leaf] of rows.entries()) {
      read++;
      yield { seq, body: '', leaf };
    }
  },
});
const root = rootOf(leaves.slice(0, 30));

describe('events are proved', () => {
  test('many in one pass, in the log as it was at a checkpoint', async () => {
    read = 0;
    const seqs = [0, 5, 13, 29, 5];
    const proofs = await proveEvents(register(), seqs, 30, root);
    expect([...proofs.keys()]).toEqual([0, 5, 13, 29]);
    for (const [seq, proof] of proofs) {
      expect(proof).toEqual(inclusionProof(leaves, seq, 30));
      expect(inclusionProblem({ size: 30, root }, seq, leaves[seq]!, proof)).toBeUndefined();
    }
    expect(read).toBe(30);
  });

  test('twenty thousand, all at once', async () => {
    const many = Array.from({ length: 20_000 }, (_, i) => createHash('sha256').update(`${i}`).digest());
    const proofs = await proveEvents(register(many), [...many.keys()], many.length);
    const at = { size: many.length, root: rootOf(many) };
    for (const seq of [0, 1, 16_383, 16_384, 19_999])
      expect(inclusionProblem(at, seq, many[seq]!, proofs.get(seq)!)).toBeUndefined();
  });

  test('none asked for, or nothing signed', async () => {
    expect(await proveEvents(register(), [], 30, root)).toEqual(new Map());
    expect(await proveEvents(register([]), [], 0)).toEqual(new Map());
  });
});

describe('nothing is proved', () => {
  test.each<[string, () => Promise<unknown>, RegExp]>([
    [
      'of an event after the checkpoint',
      () => proveEvents(register(), [3, 30], 30),
      /30 log.event-after-checkpoint/,
    ],
    [
      'when events are gone',
      () => proveEvents(register(leaves.slice(0, 20)), [3], 30),
      /register log.shorter-than-signed/,
    ],
    [
      'when they are not those that were signed',
      () => proveEvents(register(leaves.with(4, leaves[5]!)), [3], 30, root),
      /register log.other-events/,
    ],
    [
      'when one is missing in between',
      () =>
        proveEvents(
          {
            async *events() {
              for (const [seq, leaf] of leaves.entries()) if (seq !== 7) yield { seq, body: '', leaf };
            },
          },
          [3],
          30,
        ),
      /event 7 log.event-missing/,
    ],
  ])('%s', async (_, work, reason) => {
    const refusal = await work().then(
      () => undefined,
      (error: Refusal) => error,
    );
    expect(refusal?.exit).toBe(3);
    expect(refusal?.problems.map((p) => `${p.where} ${p.code}`).join()).toMatch(reason);
  });
});
