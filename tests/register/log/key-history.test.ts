import { createPrivateKey } from 'node:crypto';
import { describe, expect, test } from 'vitest';
import {
  addKey,
  continuesHistory,
  endKey,
  formatHistory,
  historyOf,
  type KeyHistory,
  readKeys,
  signHandover,
  signingKey,
} from '../../../src/register/log/key-history.js';
import {
  readNote,
  type Signer,
  signCheckpoint,
  signerOf,
  signNote,
  verifierLine,
} from '../../../src/register/log/note.js';

const ORIGIN = 'burin/lantern-coast';
const keyOf = (seed: number, name = ORIGIN): Signer =>
  signerOf(
    name,
    createPrivateKey({
      key: Buffer.concat([Buffer.from('302e020100300506032b657004220420', 'hex'), Buffer.alloc(32, seed)]),
      format: 'der',
      type: 'pkcs8',
    }),
  );
const [first, second, third, stranger] = [1, 2, 3, 4].map((seed) => keyOf(seed)) as [
  Signer,
  Signer,
  Signer,
  Signer,
];
const ROOT = Buffer.alloc(32, 5);

/** The first handed over at 10 events, the second was stolen at 20, the third is in use. */
const handover = signHandover({ size: 10, root: ROOT }, first, second);
const planned = addKey(endKey(historyOf(first), 10, 'planned'), second, handover);
const history = addKey(endKey(planned, 20, 'stolen'), third);
const text = formatHistory(history);

test('a history is a line for each key, then the handovers, and reads back the same', () => {
  expect(text.split('\n').slice(0, 5)).toEqual([
    'keys of burin/lantern-coast',
    `${verifierLine(first)} 0 10 planned`,
    `${verifierLine(second)} 10 20 stolen`,
    `${verifierLine(third)} 20 open`,
    '',
  ]);
  expect(text.endsWith(`\n\n${handover}`)).toBe(true);
  const read = readKeys(text);
  expect(read.ok && formatHistory(read.history)).toBe(text);
  const line = readKeys(`${verifierLine(first)}\n`);
  expect(line.ok && formatHistory(line.history)).toBe(`keys of ${ORIGIN}\n${verifierLine(first)} 0 open\n`);
});

describe('a key counts from where the one before it ended to its own end', () => {
  const by = (size: number, signer: Signer, keys: KeyHistory = history) => {
    const note = readNote(signCheckpoint({ size, root: ROOT }, signer));
    if (!note.ok) throw new Error(note.problem.code);
    const found = signingKey(note.note, size, keys);
    return found.ok ? keys.keys.indexOf(found.key) : found.problem.code;
  };
  test.each<[number, Signer, number | string]>([
    [0, first, 0],
    [10, first, 0],
    [11, first, 'log.key-ended'],
    [9, second, 'log.key-not-begun'],
    [10, second, 1],
    [20, second, 1],
    [21, second, 'log.key-ended'],
    [19, third, 'log.key-not-begun'],
    [20, third, 2],
    [1_000_000, third, 2],
    [15, stranger, 'log.other-signer'],
  ])('%i events', (size, signer, expected) => {
    expect(by(size, signer)).toBe(expected);
  });

  test('a false signature of any of them is refused, beside a good one too', () => {
    const good = signCheckpoint({ size: 15, root: ROOT }, second);
    const other = signCheckpoint({ size: 16, root: ROOT }, first);
    const note = readNote(`${good}${other.slice(other.indexOf('\u2014'))}`);
    expect(note.ok && signingKey(note.note, 15, history)).toMatchObject({
      problem: { code: 'log.signature-wrong' },
    });
  });
});

describe('a history that was altered is refused', () => {
  const lines = text.split('\n');
  const swapped = (i: number, j: number) =>
    lines.map((line, k) => (k === i ? lines[j] : k === j ? lines[i] : line)).join('\n');
  const with3 = (line: string) => [...lines.slice(0, 3), line, ...lines.slice(4)].join('\n');
  test.each<[string, string, string]>([
    ['its lines reordered', swapped(1, 2), 'history-sizes'],
    ['a line left out', lines.filter((_, i) => i !== 2).join('\n'), 'history-sizes'],
    ['the first line left out', lines.filter((_, i) => i !== 1).join('\n'), 'history-sizes'],
    ['an end moved', text.replace(' 0 10 planned', ' 0 12 planned'), 'history-sizes'],
    [
      'an end and the beginning after it moved',
      text.replace(' 0 10 planned', ' 0 12 planned').replace(' 10 20 ', ' 12 20 '),
      'history-handover',
    ],
    ['a loss made out of a plan', text.replace('10 planned', '10 lost'), 'history-handover-extra'],
    ['a plan made out of a theft', text.replace('20 stolen', '20 planned'), 'history-handover'],
    [
      'another key put in behind a planned end',
      text.replace(verifierLine(second), verifierLine(stranger)),
      'history-handover',
    ],
    ['a key of another log', with3(`${verifierLine(keyOf(3, 'burin/other'))} 20 open`), 'history-other-log'],
    ['a key twice', with3(`${verifierLine(first)} 20 open`), 'history-key-twice'],
    ['a key in use before the last', text.replace('10 20 stolen', '10 open'), 'history-open-before'],
    ['a word that is no reason', text.replace('stolen', 'sold'), 'history-line'],
    ['a size with a zero before it', text.replace('10 20', '10 020'), 'history-line'],
    [
      'a key with another hash',
      with3(`${verifierLine(third).replace(/\+.{8}/, '+00000000')} 20 open`),
      'history-line',
    ],
    ['no keys', `keys of ${ORIGIN}\n`, 'history-empty'],
    ['no end of its last line', text.slice(0, -1), 'note-cut-short'],
    ['the handover signed by the next key alone', text.replace(handover, forged()), 'history-handover'],
    [
      'a handover that names another key',
      text.replace(handover, naming(`handover\n${verifierLine(stranger)}\n`)),
      'history-handover',
    ],
    [
      'a plain checkpoint of both keys for a handover',
      text.replace(handover, naming('')),
      'history-handover',
    ],
    ['the handover left out', text.slice(0, text.indexOf('\n\n') + 1), 'history-handover'],
  ])('%s', (_, altered, code) => {
    expect(altered).not.toBe(text);
    expect(readKeys(altered)).toMatchObject({ ok: false, problem: { code: `log.${code}` } });
  });

  /** Signed by both keys, with these lines behind the root. */
  function naming(lines: string): string {
    return signNote(`${ORIGIN}\n10\n${ROOT.toString('base64')}\n${lines}`, [first, second]);
  }

  function forged(): string {
    const [body] = handover.split('\n\n');
    return signHandover({ size: 10, root: ROOT }, stranger, second).replace(/^[\s\S]*?\n\n/, `${body}\n\n`);
  }
});

test('a later history continues an earlier one when only the end of its last key is new', () => {
  expect(continuesHistory(history, planned)).toBe(true);
  expect(continuesHistory(planned, historyOf(first))).toBe(true);
  expect(continuesHistory(history, history)).toBe(true);
  expect(continuesHistory(planned, history)).toBe(false);
  expect(continuesHistory(history, historyOf(second))).toBe(false);
  const moved = addKey(endKey(historyOf(first), 12, 'lost'), second);
  expect(continuesHistory(moved, planned)).toBe(false);
  expect(() => endKey(planned, 9, 'stolen')).toThrow(RangeError);
  expect(() => addKey(planned, third)).toThrow(RangeError);
});
