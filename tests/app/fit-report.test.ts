import { rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, expect, test } from 'vitest';
import { burin, linesOf } from '../cli/burin.js';
import { cleanAfterAll, edit, newBench } from '../cli/folders.js';

cleanAfterAll();

let bench: string;
const list = (...rows: string[]) =>
  writeFileSync(
    join(bench, 'editions/dedicated.csv'),
    `number,text\n${rows.map((row, k) => `${k + 1},${row}\n`).join('')}`,
  );

beforeAll(() => {
  bench = newBench(undefined, 'studio-pieces');
  for (const name of ['all-over', 'title-band']) rmSync(join(bench, `editions/${name}.yaml`));
  for (const name of ['barrel-all-over', 'barrel-title-band']) rmSync(join(bench, `designs/${name}.yaml`));
  edit(bench, 'designs/cap-dedication.yaml', 'size: { min: 1.2, max: 2.2 }', 'size: { min: 2, max: 2.2 }');
});

interface Mark {
  readonly mark: string;
  readonly ok: boolean;
  readonly each: readonly {
    readonly label: string;
    readonly size?: number;
    readonly limit?: { readonly obstacle: object };
  }[];
  readonly problem?: { readonly values: object };
  readonly remarks?: readonly unknown[];
}

async function fitted(code: number) {
  const said = await burin(['fit', 'dedicated', '--json'], { cwd: bench });
  expect(said.code, said.stderr).toBe(code);
  const { marks } = JSON.parse(said.stdout) as { marks: Mark[] };
  return marks.find(({ mark }) => mark === 'dedication')!;
}

const LONG = 'for the keeper of the light at the end of the long harbour wall and all who sail by it';

test('each dedication has its size; one that is too long is named, and the others are told all the same', async () => {
  list('for I. Feld', LONG);
  const found = await fitted(1);
  expect(found.ok).toBe(false);
  expect(found.each.map(({ label, size }) => [label, size !== undefined])).toEqual([
    ['I/IX', true],
    ['II/IX', false],
  ]);
  // It is the line as a whole that is too long, and no letter of it.
  expect(found.problem?.values).toMatchObject({ label: 'II/IX', glyph: 'none' });
});

test('where none fits there is no size to tell', async () => {
  list(LONG, LONG);
  const lines = linesOf((await burin(['fit', 'dedicated'], { cwd: bench })).stdout);
  expect(lines.some((line) => /dedication.*: none fits$/.test(line))).toBe(true);
});

test('all that fit at the largest size pass without a remark, and what limits them is a code with its words', async () => {
  list('for I. Feld', 'for O. Vant');
  const { remarks, each } = await fitted(0);
  expect(remarks).toBeUndefined();
  for (const { limit } of each)
    expect(limit?.obstacle).toEqual({
      phrase: expect.stringMatching(/^(surface|layout)\.[a-z-]+$/),
      message: expect.stringMatching(/^[a-z]/),
      values: expect.any(Object),
    });
});
