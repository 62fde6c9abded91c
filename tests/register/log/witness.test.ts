import { createPrivateKey } from 'node:crypto';
import { describe, expect, test } from 'vitest';
import { cosignedAt, cosignerOf } from '../../../src/register/log/cosignature.js';
import { addKey, endKey, historyOf } from '../../../src/register/log/key-history.js';
import { leafHashText, rootOf } from '../../../src/register/log/merkle-accumulator.js';
import { consistencyProof } from '../../../src/register/log/merkle-proof.js';
import { readNote, signatureProblem, signCheckpoint, signerOf } from '../../../src/register/log/note.js';
import {
  answerRequest,
  readSeenHead,
  type SeenHead,
  type WitnessRequest,
} from '../../../src/register/log/witness.js';

const keyOf = (seed: number) =>
  createPrivateKey({
    key: Buffer.concat([Buffer.from('302e020100300506032b657004220420', 'hex'), Buffer.alloc(32, seed)]),
    format: 'der',
    type: 'pkcs8',
  });
const ORIGIN = 'burin/lantern-coast';
const [maker, next, thief] = [1, 2, 3].map((seed) => signerOf(ORIGIN, keyOf(seed)));
const witness = cosignerOf('burin-witness/harbour', keyOf(9));
const keys = historyOf(maker!);

const leavesOf = (name: string, n: number): Buffer[] =>
  Array.from({ length: n }, (_, i) => Buffer.from(leafHashText(`${name} ${i}`), 'latin1'));
const log = leavesOf('event', 40);
/** The same to the tenth event, then another history. */
const fork = [...log.slice(0, 10), ...leavesOf('other', 30)];

const noteOf = (size: number, leaves = log, by = maker!): string =>
  signCheckpoint({ size, root: rootOf(leaves.slice(0, size)) }, by);
const request = (old: number, size: number, leaves = log, by = maker!): WitnessRequest => ({
  old,
  proof: old === 0 || old >= size ? [] : consistencyProof(leaves, old, size),
  note: noteOf(size, leaves, by),
});

/** A witness that saw this many events at second 100. */
function headAt(size: number): SeenHead {
  const first = answerRequest(request(0, size), keys, undefined, witness, 100);
  if (!first.ok) throw new Error(first.problem.code);
  const read = readSeenHead(first.cosigned, witness);
  if (!read.ok) throw new Error(read.problem.code);
  return read;
}
const answered = (asked: WitnessRequest, seen: SeenHead | undefined, at = 200, of = keys) => {
  const answer = answerRequest(asked, of, seen, witness, at);
  return answer.ok ? answer.size : answer.problem.code;
};

describe('a witness', () => {
  test('cosigns the first head it is shown, and each that continues it', () => {
    for (let size = 1; size <= log.length; size++)
      for (let old = 1; old <= size; old++)
        expect(answered(request(old, size), headAt(old)), `${old} ${size}`).toBe(size);
    const read = readNote(headAt(10).note);
    expect(read.ok && cosignedAt(read.note, witness)).toEqual({ ok: true, seconds: 100 });
    expect(read.ok && signatureProblem(read.note, maker!)).toBeUndefined();
  });

  test('gives the cosignature of the first time for the same head again, also to the next key', () => {
    const seen = headAt(12);
    for (const old of [0, 5, 12]) {
      const again = answerRequest({ ...request(old, 12), proof: [] }, keys, seen, witness, 300);
      expect(again).toEqual({ ok: true, cosigned: seen.note, size: 12 });
    }
    const later = addKey(endKey(keys, 12, 'lost'), next!);
    const changed = answerRequest(request(12, 12, log, next!), later, seen, witness, 300);
    const read = readNote(changed.ok ? changed.cosigned : '');
    expect(read.ok && [signatureProblem(read.note, next!), cosignedAt(read.note, witness)]).toEqual([
      undefined,
      { ok: true, seconds: 100 },
    ]);
  });

  test.each<[string, WitnessRequest, string]>([
    ['a log that was set back', request(12, 9), 'witness.shorter'],
    ['an older note that is sent again', request(0, 11), 'witness.shorter'],
    ['another history of the same size', request(12, 12, fork), 'witness.other-history'],
    ['a fork that grew', request(12, 20, fork), 'witness.not-extended'],
    [
      'the true log with the proof of a fork',
      { ...request(12, 20), proof: consistencyProof(fork, 12, 20) },
      'witness.not-extended',
    ],
    ['no proof', { ...request(12, 20), proof: [] }, 'witness.not-extended'],
    ['a proof from another head', request(11, 20), 'witness.proof-from-elsewhere'],
    ['a first head, where one was seen', request(0, 20), 'witness.proof-from-elsewhere'],
    ['the key of someone else', request(12, 20, log, thief!), 'log.other-signer'],
    [
      'a size that was altered',
      { ...request(12, 20), note: noteOf(20).replace('\n20\n', '\n21\n') },
      'log.signature-wrong',
    ],
    ['an empty log', { old: 12, proof: [], note: noteOf(0) }, 'log.proof-of-empty-log'],
    ['no note', { old: 12, proof: [], note: '' }, 'log.note-no-blank-line'],
  ])('refuses %s', (_, asked, code) => {
    expect(answered(asked, headAt(12))).toBe(code);
  });

  test('refuses a proof without a head, a clock that runs back, and what a retired key signs after its end', () => {
    expect(answered(request(5, 12), undefined)).toBe('witness.nothing-seen');
    expect(answered(request(12, 20), headAt(12), 99)).toBe('witness.clock-behind');
    expect(answered(request(12, 20), headAt(12), 200, endKey(keys, 15, 'stolen'))).toBe('log.key-ended');
    expect(answered(request(12, 15), headAt(12), 200, endKey(keys, 15, 'stolen'))).toBe(15);
    expect(answered(request(12, 20), headAt(12), 200, historyOf(signerOf('burin/other', keyOf(1))))).toBe(
      'log.checkpoint-other-log',
    );
  });

  test('does not take a head that it did not cosign for its own', () => {
    expect(readSeenHead(noteOf(12), witness)).toMatchObject({ problem: { code: 'witness.not-cosigned' } });
    const altered = headAt(12).note.replace('\n12\n', '\n11\n');
    expect(readSeenHead(altered, witness)).toMatchObject({ problem: { code: 'witness.cosignature-wrong' } });
  });
});
