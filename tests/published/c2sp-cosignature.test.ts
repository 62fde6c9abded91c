import { createHash, createPrivateKey, createPublicKey, sign, verify } from 'node:crypto';
import { describe, expect, test } from 'vitest';
import {
  cosign,
  cosignedAt,
  cosignerOf,
  readWitness,
  witnessLine,
} from '../../src/register/log/cosignature.js';
import { openCheckpoint, readNote, readVerifier, signerOf, signNote } from '../../src/register/log/note.js';
import { formatRequest, readRequest } from '../../src/register/log/witness.js';

/**
 * C2SP tlog-cosignature, cosignature/v1, and the request of tlog-witness (c2sp.org), from memory. Everything here is put
 * together by hand, with node:crypto alone: key hash SHA-256(name, 0x0A, 0x04, key), first four bytes; the signature line holds
 * key hash, eight bytes of time with the highest first, and an Ed25519 signature (RFC 8032) of
 * "cosignature/v1\ntime <seconds>\n" and the text of the note.
 */
const ORIGIN = 'burin/lantern-coast';
const WITNESS = 'witness.example/harbour';
const SECONDS = 1_930_000_000;

const keyOf = (seed: number) =>
  createPrivateKey({
    key: Buffer.concat([Buffer.from('302e020100300506032b657004220420', 'hex'), Buffer.alloc(32, seed)]),
    format: 'der',
    type: 'pkcs8',
  });
const rawOf = (seed: number) =>
  createPublicKey(keyOf(seed)).export({ format: 'der', type: 'spki' }).subarray(-32);
const hashOf = (name: string, algorithm: number, raw: Uint8Array): Buffer =>
  createHash('sha256').update(name).update(Buffer.of(0x0a, algorithm)).update(raw).digest().subarray(0, 4);

const maker = signerOf(ORIGIN, keyOf(7));
const witness = cosignerOf(WITNESS, keyOf(9));
const other = cosignerOf('witness.example/lighthouse', keyOf(10));
const ROOT = createHash('sha256').update('a root').digest();
const BODY = `${ORIGIN}\n1847\n${ROOT.toString('base64')}\n`;
const note = signNote(BODY, [maker]);

function lineByHand(seconds: number, { body = BODY, seed = 9, name = WITNESS } = {}): string {
  const time = Buffer.alloc(8);
  time.writeUInt32BE(Math.floor(seconds / 2 ** 32), 0);
  time.writeUInt32BE(seconds % 2 ** 32, 4);
  const signature = sign(null, Buffer.from(`cosignature/v1\ntime ${seconds}\n${body}`), keyOf(seed));
  const bytes = Buffer.concat([hashOf(name, 4, rawOf(9)), time, signature]);
  return `\u2014 ${name} ${bytes.toString('base64')}\n`;
}

const noteIn = (text: string) => {
  const read = readNote(text);
  if (!read.ok) throw new Error(read.problem.code);
  return read.note;
};
const seenAt = (text: string, by = witness) => {
  const found = cosignedAt(noteIn(text), by);
  return found.ok ? found.seconds : found.problem.code;
};

describe('the form', () => {
  test('of a cosignature: a line under that of the log', () => {
    expect(cosign(noteIn(note), witness, SECONDS)).toBe(`${note}${lineByHand(SECONDS)}`);
  });

  test('of a vector that is written out: 32 bytes 09 as the seed, second 1 of 1970', () => {
    const line = cosign(noteIn(note), witness, 1).slice(note.length);
    const bytes = Buffer.from(line.split(' ')[2]!, 'base64');
    expect(bytes.length).toBe(4 + 8 + 64);
    expect(bytes.subarray(4, 12).toString('hex')).toBe('0000000000000001');
    const der = Buffer.concat([Buffer.from('302a300506032b6570032100', 'hex'), rawOf(9)]);
    const key = createPublicKey({ key: der, format: 'der', type: 'spki' });
    expect(verify(null, Buffer.from(`cosignature/v1\ntime 1\n${BODY}`), key, bytes.subarray(12))).toBe(true);
  });

  test('of the public key of a witness: its algorithm is 4, and no key of a log is one', () => {
    const raw = rawOf(9);
    const coded = Buffer.concat([Buffer.of(4), raw]).toString('base64');
    expect(witnessLine(witness)).toBe(`${WITNESS}+${hashOf(WITNESS, 4, raw).toString('hex')}+${coded}`);
    const read = readWitness(`${witnessLine(witness)}\n`);
    expect(read.ok && seenAt(`${note}${lineByHand(SECONDS)}`, { ...witness, ...read.witness })).toBe(SECONDS);
    expect(readVerifier(witnessLine(witness)).ok).toBe(false);
    const plain = Buffer.concat([Buffer.of(1), raw]);
    expect(
      readWitness(`${WITNESS}+${hashOf(WITNESS, 1, raw).toString('hex')}+${plain.toString('base64')}`).ok,
    ).toBe(false);
  });

  test('of a request: old size, the proof, an empty line, the note', () => {
    const proof = [ROOT, Buffer.alloc(32, 1)];
    const text = `old 1843\n${proof.map((one) => `${one.toString('base64')}\n`).join('')}\n${note}`;
    expect(formatRequest({ old: 1843, proof, note })).toBe(text);
    expect(readRequest(text)).toEqual({ ok: true, request: { old: 1843, proof, note } });
    expect(readRequest(`old 0\n\n${note}`)).toEqual({ ok: true, request: { old: 0, proof: [], note } });
    for (const wrong of [note, `old 01\n\n${note}`, `old 1\nx\n\n${note}`, 'old 1', '', `old -1\n\n${note}`])
      expect(readRequest(wrong)).toMatchObject({ ok: false });
  });
});

describe('a cosignature counts', () => {
  test('beside that of the log and of another witness, in any order; the log is read as before', () => {
    const both = cosign(noteIn(cosign(noteIn(note), other, 5)), witness, SECONDS);
    expect([seenAt(both), seenAt(both, other)]).toEqual([SECONDS, 5]);
    expect(openCheckpoint(both, maker)).toMatchObject({ ok: true, checkpoint: { size: 1847 } });
    const first = signNote(BODY, [maker]).replace(BODY, '').slice(1);
    expect(seenAt(`${BODY}\n${lineByHand(SECONDS)}${first}`)).toBe(SECONDS);
    // Made again, it takes the place of the one before; two of one key mean the earlier.
    expect(cosign(noteIn(both), other, 6).split('\n')).toHaveLength(both.split('\n').length);
    expect(seenAt(`${note}${lineByHand(9)}${lineByHand(7)}`)).toBe(7);
  });

  test.each<[string, string, string]>([
    ['none is there', note, 'witness.not-cosigned'],
    ['another witness signed', cosign(noteIn(note), other, 5), 'witness.not-cosigned'],
    [
      'it is of another key of that name',
      `${note}${lineByHand(5, { seed: 11 })}`,
      'witness.cosignature-wrong',
    ],
    ['it is of another text', `${note}${lineByHand(5, { body: `${BODY}x\n` })}`, 'witness.cosignature-wrong'],
    ['its time is 0', `${note}${lineByHand(0)}`, 'witness.cosignature-wrong'],
    ['its time is beyond any', `${note}${lineByHand(2 ** 45)}`, 'witness.cosignature-wrong'],
    [
      'a false one stands beside a good one',
      `${note}${lineByHand(5)}${lineByHand(5, { seed: 11 })}`,
      'witness.cosignature-wrong',
    ],
    [
      'it is too short to hold a signature',
      `${note}\u2014 ${WITNESS} ${Buffer.concat([hashOf(WITNESS, 4, rawOf(9)), Buffer.alloc(8)]).toString('base64')}\n`,
      'witness.cosignature-wrong',
    ],
  ])('not where %s', (_, text, code) => {
    expect(seenAt(text)).toBe(code);
  });

  test('not with any one bit of its time altered', () => {
    const line = lineByHand(SECONDS);
    const bytes = Buffer.from(line.split(' ')[2]!, 'base64');
    for (let bit = 0; bit < 64; bit++) {
      const altered = Buffer.from(bytes);
      altered[4 + (bit >> 3)]! ^= 1 << (bit & 7);
      expect(seenAt(`${note}\u2014 ${WITNESS} ${altered.toString('base64')}\n`)).toBe(
        'witness.cosignature-wrong',
      );
    }
  });
});
