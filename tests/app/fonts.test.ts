import { copyFileSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { burin, well } from '../cli/burin.js';
import { cleanAfterAll, edit, newQuickBench } from '../cli/folders.js';

cleanAfterAll();

const GARAMOND = createRequire(import.meta.url).resolve(
  '@fontsource/eb-garamond/files/eb-garamond-latin-500-normal.woff',
);
const ISSUE = ['issue', 'nine-lights', '--series', 'main', '--count', '1', '--by', 'A. Moss', '--json'];

/** A bench whose number is set in a font of its own. */
function newBenchWithFont(): string {
  const bench = newQuickBench();
  edit(bench, 'designs/cap-number.yaml', 'font: burin-plain', 'font: house');
  writeFileSync(
    join(bench, 'workshop.yaml'),
    'kind: workshop\nversion: 1\nname: Lantern Coast\nfonts: { house: { file: house.woff } }\n',
  );
  return bench;
}

const codesOf = (stdout: string) =>
  (JSON.parse(stdout) as { problems: { code: string }[] }).problems.map(({ code }) => code);

test("a workshop's own font is cut as the same file is where burin brings it", async () => {
  const own = newBenchWithFont();
  copyFileSync(GARAMOND, join(own, 'house.woff'));
  const carried = newQuickBench();
  edit(carried, 'designs/cap-number.yaml', 'font: burin-plain', 'font: garamond');
  // The serifs of IX touch.
  for (const bench of [own, carried])
    edit(bench, 'designs/cap-number.yaml', 'surface: body', 'surface: body\n    spacing: 0.1');
  const fits = await Promise.all(
    [own, carried].map(async (cwd) => {
      const { marks } = JSON.parse(await well(['fit', 'nine-lights', '--json'], { cwd }));
      return marks.find((mark: { mark: string }) => mark.mark === 'number');
    }),
  );
  expect(fits[0].size).toBeGreaterThan(0);
  expect(fits[0]).toEqual(fits[1]);
});

test('where it is missing or damaged nothing is issued: the number could not be cut', async () => {
  const bench = newBenchWithFont();
  const missing = await burin(ISSUE, { cwd: bench });
  expect([missing.code, codesOf(missing.stdout)]).toEqual([2, ['documents.file-missing']]);
  writeFileSync(join(bench, 'house.woff'), 'wOFF and nothing more');
  const damaged = await burin(ISSUE, { cwd: bench });
  expect(damaged.code).toBe(2);
  expect(codesOf(damaged.stdout)).toEqual([expect.stringMatching(/^(lettering|documents)\./)]);
  copyFileSync(GARAMOND, join(bench, 'house.woff'));
  expect(JSON.parse(await well(ISSUE, { cwd: bench })).issued).toHaveLength(1);
});
