import { existsSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { burin, linesOf, started, well } from './burin.js';
import { cleanAfterAll, filesIn, makeQuick, newFolder, newQuickBench } from './folders.js';

cleanAfterAll();

/** Runs words twice, plain and as JSON, on the same bench; gives the lines and the value. */
async function both(cwd: string, ...words: string[]) {
  const plain = await burin(words, { cwd });
  const json = await burin(['--json', ...words], { cwd });
  expect([plain.code, json.code], plain.stderr + json.stderr).toEqual([0, 0]);
  return { lines: linesOf(plain.stdout), value: JSON.parse(json.stdout), talk: plain.stderr + json.stderr };
}

test('every command answers on stdout alone, in words or as one JSON document, in a folder of any name', async () => {
  const place = path.join(newFolder(), "Bänke & Öfen 'zwei' – ノ");
  expect(await well(['new', place, '--from', 'nine-lights'])).toBe(
    `${place} is a workshop. Next: burin check --workshop ${place}\n`,
  );
  makeQuick(place);
  const check = await both(place, 'check');
  expect(check.lines).toEqual(['Sound: 2 parts, 2 materials, 2 cutters, 2 stations, 2 designs, 1 edition.']);
  expect(check.value).toMatchObject({ ok: true, counts: { parts: 2, editions: 1 } });
  expect(check.talk).toBe('');

  const fit = await both(place, 'fit', 'nine-lights');
  expect(fit.lines[0]).toMatch(/^cap-number \/ number on cap body, 99 labels: [\d.]+ mm high at z/);
  expect(fit.value.marks[0]).toMatchObject({ mark: 'number', ok: true, labels: 99 });

  const issue = await both(
    place,
    'issue',
    'nine-lights',
    '--series',
    'main',
    '--count',
    '2',
    '--by',
    'E. Marrow',
  );
  expect(issue.lines).toEqual(['01/90', '02/90']);
  expect(issue.value.issued.map((n: { label: string }) => n.label)).toEqual(['03/90', '04/90']);

  const register = await both(place, 'register', 'nine-lights');
  expect(register.lines).toHaveLength(99);
  expect(register.value.numbers.slice(3, 5)).toMatchObject([
    { series: 'main', number: 4, label: '04/90', state: 'issued' },
    { series: 'main', number: 5, label: '05/90', state: 'planned' },
  ]);

  const cut = await both(
    place,
    'cut',
    'nine-lights',
    '--series',
    'main',
    '--numbers',
    '1,3-4',
    '--station',
    'rotary-tilted',
  );
  expect(cut.lines).toHaveLength(2);
  expect(cut.lines[0]).toMatch(/^3 pieces in .*: about \d+ minutes/);
  expect(cut.value.pieces.map((p: { label: string }) => p.label)).toEqual(['01/90', '03/90', '04/90']);
  const out = path.join(place, 'out/nine-lights');
  for (const { sheets, programs } of cut.value.pieces)
    for (const file of [...sheets, ...programs, cut.value.runSheet, cut.value.proof])
      expect(existsSync(path.join(out, file)), file).toBe(true);
  for (const file of filesIn(out)) expect(file).toMatch(/^[a-z0-9./-]+$/);

  const programs = filesIn(out)
    .filter((f) => f.endsWith('.nc'))
    .map((f) => path.join('out/nine-lights', f));
  const readback = await both(place, 'readback', ...programs);
  expect(readback.lines).toHaveLength(6);
  expect(readback.lines[0]).toMatch(/: 01\/90 as laid out, within 0\.00\d\d mm; depth within/);
  expect(readback.value.ok).toBe(true);
});

test('nobody listening is no trouble; a full disk under the answer is', async () => {
  const place = newQuickBench();
  const input = Array.from({ length: 10_000 }, (_, i) => `${8 + i / 200},${i}`).join('\n');
  for (const [words, around] of [
    [['register', 'nine-lights'], {}],
    [['register', 'nine-lights', '--json'], {}],
    [['unroll', 'barrel', '--surface', 'taper'], { input }],
    [['--help'], {}],
    [['fit', 'nothing', '--json'], {}],
  ] as const) {
    const said = await started(words, { cwd: place, deaf: true, ...around });
    expect(said.signal).toBe(null);
    expect(said.stderr).not.toMatch(/EPIPE|at .*\.js/);
    expect(said.code).toBe(words[1] === 'nothing' ? 2 : 0);
  }
  if (!existsSync('/dev/full')) return;
  const full = await started(['check'], { cwd: place, sh: 'exec "$@" > /dev/full' });
  expect(full.code).toBe(2);
  expect(linesOf(full.stderr)).toEqual([
    'stdout: It cannot be written: the disk is full. Free some space, then ask again.',
  ]);
});

test('help is an answer: stdout, exit 0, every command in it', async () => {
  const help = await well(['--help']);
  for (const heading of ['To begin', 'The designer', 'The engraver', 'The register keeper'])
    expect(help).toMatch(new RegExp(`^${heading}.*:$`, 'm'));
  for (const command of ['new', 'check', 'unroll', 'fit', 'issue', 'cut', 'readback', 'register', 'demo'])
    expect(help).toMatch(new RegExp(`^ {2}${command} `, 'm'));
  expect(await well(['cut', '--help'])).toContain('--station <id>');
  const { version } = JSON.parse(readFileSync('package.json', 'utf8')) as { version: string };
  expect(await well(['--version'])).toBe(`${version}\n`);
});

test('what would move the cursor of a terminal is written out in answers', async () => {
  const place = path.join(newFolder(), 'o\n d\u001b[31m"x\u009b');
  const shown = place.replace('\n', '<U+000A>').replace('\u001b', '<U+001B>').replace('\u009b', '<U+009B>');
  expect(await well(['new', place, '--from', 'first-bench'])).toBe(
    `${shown} is a workshop. Next: burin check --workshop ${shown}\n`,
  );
  const other = `${place}2`;
  const json = await well(['--json', 'new', other, '--from', 'first-bench']);
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for
  expect(json).not.toMatch(/[\u0000-\u0009\u000b-\u001f\u007f-\u009f]/);
  expect(JSON.stringify(JSON.parse(json))).toContain(JSON.stringify(other));
});
