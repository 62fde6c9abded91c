import { cpSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { expect } from 'vitest';
import { type Around, burin, started, startedWell } from './burin.js';
import { edit, newFolder, newQuickBench } from './folders.js';

const WHO = ['--by', 'A. Moss'];
const STATION = ['--station', 'rotary-level'];

const TODAY = new Date().toISOString().slice(0, 10);

/** Every command, in an order in which each finds what it needs. The demo is started in a test of its own. */
export const STEPS: readonly (readonly string[])[] = [
  ['new', 'other', '--from', 'nine-lights'],
  ['check'],
  ['fit', 'nine-lights'],
  ['unroll', 'barrel', '--surface', 'taper'],
  ['key', 'show'],
  ['issue', 'nine-lights', '--series', 'main', '--count', '2', ...WHO],
  ['cut', 'nine-lights', '--labels', '02/90', ...STATION],
  ['readback', 'out/nine-lights/main-0002/cap-body-drag-12.nc'],
  ['record', 'nine-lights', '01/90', 'engraved', ...WHO],
  ['correct', 'nine-lights', '01/90', '--on', `${TODAY}T00:00:00.000Z`, '--why', 'misread', ...WHO],
  [
    'retract',
    'nine-lights',
    '01/90',
    '--instead',
    'engraved',
    '--part',
    'cap',
    '--why',
    'wrong part',
    ...WHO,
  ],
  ['register', 'nine-lights'],
  ['certificate', 'nine-lights', '01/90', '--out', 'papers'],
  ['verify', 'papers/nine-lights-main-0001-1.json', '--key', 'maker.pub'],
  ['withdrawals'],
  ['audit', '--key', 'maker.pub'],
  ['import', 'nine-lights', 'past.csv', ...WHO],
  ['export', '--csv'],
  ['export', '--jsonl', '--out', 'all.jsonl'],
  ['restore', '../bench/all.jsonl', '--workshop', 'other'],
  // Nothing is wrong with the entry.
  ['resume', '1', ...WHO, '--witness', 'E. Marrow', '--why', 'none'],
  ['backup', 'copy.db'],
  ['checkpoint'],
  // Nothing differs from the terms that the register has.
  ['amend', 'nine-lights', ...WHO, '--why', 'none'],
  ['close', 'nine-lights', '--leave-open', ...WHO],
  ['move', '--to', 'nowhere'],
  // A register in a file has no roles, and no witness has a key here.
  ['roles'],
  ['witness', 'show'],
];

/** Exit codes of those that cannot be done. */
const CODES: Readonly<Record<string, number>> = { move: 2, amend: 2, roles: 2, witness: 2, resume: 3 };

/** What differs from one bench to another of the same history: dates, chance in the leaves, and so hashes and signatures. */
const alike = (text: string): string =>
  text
    .replace(/\d{4}-\d\d-\d\dT[\d:.]+Z/g, 'TIME')
    .replaceAll(TODAY, 'DAY')
    .replace(/\/(started|within)\//g, '/SIDE/')
    .replace(/\b[0-9a-f]{64}\b/g, 'HASH')
    .replace(/(?<=^|root )[A-Za-z0-9+/]{43}=$/gm, 'ROOT')
    .replace(/^— .*$/gm, 'SIGNATURE');

/**
 * Holds each step that is asked for, in a process of its own, against the same within this one, on another bench; the rest
 * only lead from one to the next.
 */
export async function compareStarted(asked: (command: string) => boolean): Promise<void> {
  const place = newFolder();
  const around = (side: string, words: readonly string[]): Around => ({
    cwd: path.join(place, side, 'bench'),
    env: { BURIN_KEYS: path.join(place, side, 'keys') },
    input: words[0] === 'unroll' ? '20,90\n' : '',
  });
  const bench = newQuickBench(path.join(place, 'started/bench'));
  // One surface shows the same as two.
  edit(bench, 'editions/nine-lights.yaml', 'designs: [cap-number, barrel-title]', 'designs: [cap-number]');
  writeFileSync(path.join(bench, 'past.csv'), 'series,number,label,state\nmain,3,03/90,delivered\n');
  const made = await startedWell(['key', 'new', '--out', 'maker.pub'], around('started', []));
  expect(readFileSync(path.join(bench, 'maker.pub'), 'utf8')).toBe(made);
  cpSync(path.join(place, 'started'), path.join(place, 'within'), { recursive: true });
  for (const words of STEPS) {
    const start = asked(words[0]!) ? started : burin;
    const there = await start(words, around('started', words));
    const here = await burin(words, around('within', words));
    expect({ words, ...here, stdout: alike(here.stdout), stderr: alike(here.stderr) }).toEqual({
      words,
      code: there.code,
      stdout: alike(there.stdout),
      stderr: alike(there.stderr),
    });
    expect('signal' in there ? there.signal : null).toBe(null);
    expect(there.code, there.stderr).toBe(CODES[words[0]!] ?? 0);
  }
}
