import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { run } from '../../src/cli/run.js';
import { cleanAfterAll, newFolder, newQuickBench } from './folders.js';

cleanAfterAll();

/** What a terminal was sent, in the order it came, each piece with the stream it came on. */
interface Watched {
  readonly code: number;
  readonly sent: readonly { readonly on: 'out' | 'err'; readonly text: string }[];
}

let bench: string;
const keys = join(newFolder(), 'keys');

/** Runs a command before a terminal whose clock goes on by so much at each look. */
async function watch(words: readonly string[], { step = 3000, watched = true } = {}): Promise<Watched> {
  const sent: { on: 'out' | 'err'; text: string }[] = [];
  let time = 0;
  const code = await run([...words, '--workshop', bench], {
    input: () => Promise.resolve(''),
    out: (text) => sent.push({ on: 'out', text }),
    outPaced: async (text) => void sent.push({ on: 'out', text }),
    err: (text) => sent.push({ on: 'err', text }),
    watched,
    variables: { BURIN_KEYS: keys },
    now: () => {
      time += step;
      return time;
    },
  });
  return { code, sent };
}

const progressIn = ({ sent }: Watched): string[] =>
  sent.filter(({ on, text }) => on === 'err' && text.startsWith('\r')).map(({ text }) => text.slice(1));

/** What such a terminal shows in the end: each line as it was last written over. */
const shown = ({ sent }: Watched): string[] =>
  sent
    .map(({ text }) => text)
    .join('')
    .split('\n')
    .map((line) => {
      let cells: string[] = [];
      for (const part of line.split('\r')) cells = [...part, ...cells.slice(part.length)];
      return cells.join('').trimEnd();
    });

beforeAll(() => {
  bench = newQuickBench();
  const series = 'series:\n  - { id: main, title: Numbered, from: 1, to: 9, total: { joiner: "/" } }';
  writeFileSync(
    join(bench, 'editions', 'small.yaml'),
    `kind: edition\nversion: 1\nname: Small\ndesigns: [cap-number, barrel-title]\n${series}\n`,
  );
  writeFileSync(
    join(bench, 'past.csv'),
    'series,number,label,state,on,by\nmain,1,1/9,issued,2020-03-01,E. Marrow\nmain,2,2/9,issued,2020-03-01,E. Marrow\n',
  );
});

const CUT = ['cut', 'small', '--series', 'main', '--numbers', '1-2', '--station', 'rotary-level'];

describe('a long command shows how far it is, and takes the line away before its answer:', () => {
  test.each<[string, string[], RegExp]>([
    ['check', ['check'], /^\d+ of \d+ (marks fitted|stations tried)/],
    ['fit', ['fit', 'small'], /^\d of \d marks fitted/],
    ['import', ['import', 'small', 'past.csv', '--by', 'A. Moss'], /^\d of \d (rows compared|events gone)/],
    ['cut', [...CUT, '--out', 'pieces'], /^\d+ of \d+ (marks fitted|programs written|pieces drawn)/],
    // The terms of the edition are an event of their own, and so are the programs of two pieces in two parts.
    ['audit', ['audit'], /^7 of 7 events gone through/],
    ['export', ['export', '--csv', '--out', 'events.csv'], /^7 of 7 events gone through/],
    ['close', ['close', 'small', '--leave-open', '--by', 'A. Moss'], /^7 of 7 events gone through/],
  ])('%s', async (_, words, line) => {
    const named = words.map((word) =>
      /^(past\.csv|events\.csv|pieces)$/.test(word) ? join(bench, word) : word,
    );
    const seen = await watch(named);
    expect(seen.code, shown(seen).join('\n')).toBe(0);
    const lines = progressIn(seen);
    expect(lines.filter((text) => line.test(text)).length).toBeGreaterThan(0);
    expect(
      shown(seen).filter((text) => / of \d+ (marks|stations|rows|programs|pieces|events) /.test(text)),
    ).toEqual([]);
  });
});

describe('it shows nothing', () => {
  test('within two seconds', async () => {
    expect(progressIn(await watch(['fit', 'small'], { step: 0 }))).toEqual([]);
  });

  test('where nobody watches', async () => {
    expect(progressIn(await watch(['fit', 'small'], { watched: false }))).toEqual([]);
  });

  test('where JSON is asked for', async () => {
    const { sent } = await watch(['fit', 'small', '--json']);
    expect(sent.map(({ on }) => on)).toEqual(['out']);
  });
});

test('what a command ends with stands on a line of its own', async () => {
  const seen = await watch([...CUT.slice(0, -1), 'nowhere']);
  expect(seen.code).toBe(2);
  const late = await watch([
    'cut',
    'small',
    '--series',
    'main',
    '--numbers',
    '9',
    '--station',
    'rotary-level',
  ]);
  expect([seen, late].map(({ code }) => code)).toEqual([2, 3]);
  for (const one of [seen, late]) expect(shown(one).filter((text) => text !== '')).toHaveLength(1);
});
