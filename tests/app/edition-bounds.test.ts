import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, expect, test } from 'vitest';
import { checkWorkshop } from '../../src/app/check.js';
import { newBench } from '../cli/folders.js';
import { newEnvironment, newFolder, refusalOf, removeFolders } from './workshop.js';

afterEach(removeFolders);

const bench = (template?: string) => newBench(join(newFolder(), 'bench'), template);

async function problemsOf(dir: string) {
  const { problems } = await refusalOf(checkWorkshop(dir, newEnvironment()));
  return problems.map(({ code, where }) => [code, where.replace(/:\d+:\d+/, '')]);
}

function edit(dir: string, file: string, make: (text: string) => string): void {
  const path = join(dir, file);
  const before = readFileSync(path, 'utf8');
  const after = make(before);
  expect(after).not.toBe(before);
  writeFileSync(path, after);
}

test('an edition of more pieces than can be worked on is refused at once', async () => {
  const dir = bench('first-bench');
  const series = ['a', 'b', 'c'].map(
    (id) => `  - { id: ${id}, title: Series, from: 1, to: 99999, before: ${id} }\n`,
  );
  edit(dir, 'editions/first.yaml', (text) =>
    text.replace(/^series:\n(?: .*\n)*/m, `series:\n${series.join('')}`),
  );
  expect(await problemsOf(dir)).toEqual([['documents.too-many-pieces', 'editions/first.yaml: series']]);
});

test('patterns of all designs of an edition count together', async () => {
  const dir = bench();
  const waves = (id: string) =>
    `  - { id: ${id}, kind: pattern, surface: taper, place: { z: 58, angle: 0 }, cutter: cone-40, depth: 0.03,\n` +
    '      pattern: { form: waves, count: 100, rows: 60, rise: 0.02, amplitude: 0.3 } }\n';
  edit(dir, 'designs/barrel-title.yaml', (text) => `${text}${waves('one')}`);
  const alone = readFileSync(join(dir, 'designs/barrel-title.yaml'), 'utf8');
  writeFileSync(
    join(dir, 'designs/second.yaml'),
    alone.replace(/^marks:\n[\s\S]*/m, `marks:\n${waves('two')}`),
  );
  const designs = /^designs: \[(.*)\]$/m;
  edit(dir, 'editions/nine-lights.yaml', (text) => text.replace(designs, 'designs: [$1, second]'));
  expect(await problemsOf(dir)).toEqual([['artwork.pattern-too-large', 'designs/second.yaml: mark two']]);
});

// Whole letters were left out of a number: 1/90 was cut as "1 90", and read back as laid out.
test('a letter that the cutter cannot cut is refused by name; one that may differ still has to be there', async () => {
  const dir = bench('first-bench');
  writeFileSync(
    join(dir, 'cutters/cone-40.yaml'),
    'kind: cutter\nversion: 1\nname: Cone 40\nshape: cone\ntip: 0.06\nangle: 40\nspeed: 18000\nfeed: 200\nplunge: 40\ndepth: 1\n',
  );
  const [file] = readdirSync(join(dir, 'designs'));
  edit(dir, `designs/${file}`, (text) =>
    text
      .replace(/font: .*/, 'font: garamond')
      .replace(/size: .*/, 'size: 0.9')
      .replace(/cutter: .*/, 'cutter: cone-40\n    way: clear')
      .replace(/depth: .*/, 'depth: 0.03'),
  );
  const lost = await problemsOf(dir);
  expect(lost.map(([code]) => code)).toContain('cutting.seen-nothing');
  expect(lost.map(([code]) => code)).toContain('cutting.seen-lost');
  edit(dir, `designs/${file}`, (text) =>
    text.replace(
      'way: clear',
      "way: clear\n    may-differ: ['0', '1', '2', '3', '4', '5', '6', '7', '8', '9', /]",
    ),
  );
  expect(new Set((await problemsOf(dir)).map(([code]) => code))).toEqual(new Set(['cutting.seen-nothing']));
});

// 44 was cut as one sign, and nothing said so: `land` alone asks for room between letters, and was not set.
test('numbers whose digits run into one another are refused, with the room they need', async () => {
  const dir = bench('first-bench');
  const [file] = readdirSync(join(dir, 'designs'));
  const design = `designs/${file}`;
  edit(dir, design, (text) => text.replace(/size: .*/, 'size: 1.6\n    spacing: -0.3'));
  const { problems } = await refusalOf(checkWorkshop(dir, newEnvironment()));
  expect(new Set(problems.map(({ code }) => code))).toEqual(new Set(['cutting.seen-run-together']));
  const by = Math.max(...problems.map(({ values }) => Number(values.by)));
  // The room that is named is enough, and hardly more than enough.
  edit(dir, design, (text) => text.replace('spacing: -0.3', `spacing: ${-0.3 + by / 1.6 + 0.005}`));
  expect(await checkWorkshop(dir, newEnvironment())).toBeTruthy();
  edit(dir, design, (text) => text.replace(/spacing: .*/, `spacing: ${-0.3 + by / 1.6 - 0.01}`));
  expect(new Set((await problemsOf(dir)).map(([code]) => code))).toEqual(
    new Set(['cutting.seen-run-together']),
  );
});
