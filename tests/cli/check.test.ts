import { rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { burin, linesOf, well } from './burin.js';
import { cleanAfterAll, edit, newQuickBench } from './folders.js';

cleanAfterAll();

const problemsIn = (stdout: string) =>
  (JSON.parse(stdout) as { problems: { code: string; where: string }[] }).problems;

/** The sample bench with nothing but the number on the cap. */
function newCapBench(): string {
  const bench = newQuickBench();
  rmSync(path.join(bench, 'designs/barrel-title.yaml'));
  edit(bench, 'editions/nine-lights.yaml', 'designs: [cap-number, barrel-title]', 'designs: [cap-number]');
  return bench;
}

test('of many remarks a person gets the first few, and how many more there are', async () => {
  const bench = newCapBench();
  // Of a dozen series the total that is cut is not the number of pieces.
  const series = [...'ABCDEFGHIJKL'].map(
    (letter, k) =>
      `  - { id: s${k}, title: S, from: 1, to: 1, before: ${letter}, total: { joiner: /, of: 2 } }`,
  );
  writeFileSync(
    path.join(bench, 'editions/nine-lights.yaml'),
    `kind: edition\nversion: 1\nname: Many\ndesigns: [cap-number]\nseries:\n${series.join('\n')}\n`,
  );
  const said = await burin(['check'], { cwd: bench });
  expect(said.code).toBe(0);
  const lines = linesOf(said.stderr);
  expect(lines).toHaveLength(9);
  expect(lines.at(-1)).toMatch(/^4 /);
});

test('a station that cannot cut is a remark beside one that can, and refused where it is asked to', async () => {
  const bench = newCapBench();
  edit(bench, 'stations/rotary-level.yaml', 'safe: 2', 'safe: 40');
  const { remarks } = JSON.parse(await well(['check', '--json'], { cwd: bench }));
  expect(remarks).toEqual([
    expect.objectContaining({
      code: 'station.safe-height-past-max',
      where: expect.stringMatching(/^stations\/rotary-level\.yaml: edition nine-lights/),
    }),
  ]);
  await well(['issue', 'nine-lights', '--series', 'main', '--count', '1', '--by', 'A. Moss'], { cwd: bench });
  const cut = ['cut', 'nine-lights', '--labels', '01/90', '--json', '--station'];
  const refused = await burin([...cut, 'rotary-level'], { cwd: bench });
  expect([refused.code, ...problemsIn(refused.stdout).map(({ code }) => code)]).toEqual([
    1,
    'station.safe-height-past-max',
  ]);
  // Where no station is left that can, the edition cannot be cut.
  rmSync(path.join(bench, 'stations/rotary-tilted.yaml'));
  const none = await burin(['check', '--json'], { cwd: bench });
  expect([none.code, ...problemsIn(none.stdout).map(({ code }) => code)]).toEqual([
    1,
    'station.safe-height-past-max',
  ]);
});
