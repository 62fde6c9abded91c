import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, expect, test } from 'vitest';
import { fitEdition } from '../../src/app/fit.js';
import { remarksOf } from '../../src/app/fit-report.js';
import { openWorkshop } from '../../src/app/workshop.js';
import { newQuickBench } from '../cli/folders.js';
import { newEnvironment, newFolder, refusalOf, removeFolders } from './workshop.js';

afterEach(removeFolders);

const CUTTER = 'cutters/cone-40.yaml';
const FLAT =
  'kind: cutter\nversion: 1\nname: Flat end\nshape: flat\ndiameter: 0.6\nspeed: 9000\nfeed: 100\nplunge: 20\ndepth: 0.4\n';

/** The sample bench, its barrel a cone of 20 degrees with a band half-way, one maker's mark on it under the band. */
function bench(): string {
  const dir = newQuickBench(join(newFolder(), 'bench'));
  mend(dir, 'parts/barrel.yaml', (text) =>
    text
      .replace(/profile:[\s\S]*/, '')
      .concat(
        'profile:\n  - { z: 0, diameter: 40 }\n  - { z: 40, diameter: 10.88 }\n',
        'surfaces:\n  - { id: taper, from: 0, to: 40, clearance: 0 }\n',
        'keepouts:\n  - { kind: band, id: ring, from: 20, to: 22, clearance: 0.2 }\n',
      ),
  );
  mend(dir, 'designs/barrel-title.yaml', (text) =>
    text.replace(
      /marks:[\s\S]*/,
      'marks:\n  - { id: maker, kind: inscription, text: Lantern, surface: taper, baseline: ring, place: { z: 18, angle: 0 },\n' +
        '      font: burin-plain, size: { min: 0.5, max: 9 }, cutter: cone-40, depth: 0.2 }\n',
    ),
  );
  return dir;
}

function mend(dir: string, file: string, change: (text: string) => string): void {
  const path = join(dir, file);
  const before = readFileSync(path, 'utf8');
  const after = change(before);
  expect(after).not.toBe(before);
  writeFileSync(path, after);
}

async function fitted(dir: string) {
  const { marks } = fitEdition(await openWorkshop(dir, newEnvironment()), 'nine-lights');
  const found = marks.find(({ fit }) => fit.of.mark.id === 'maker')!;
  if (found.fit.kind !== 'shared' || !found.fit.result.ok) throw new Error('It does not fit.');
  return { size: found.fit.result.size, width: found.fit.of.cutWidth, remarks: remarksOf(found) };
}

test('a level station cuts wider uphill: room is kept for it, and it is said', async () => {
  const dir = bench();
  const level = await fitted(dir);
  expect(level.remarks).toMatchObject([
    { code: 'layout.wider-uphill', where: 'surface taper', values: { deeper: 'yes' } },
  ]);
  mend(dir, 'stations/rotary-level.yaml', (text) => text.replace(/^setup: .*/m, 'setup: tilted'));
  const tilted = await fitted(dir);
  expect(tilted.remarks).toEqual([]);
  expect(level.width).toBeGreaterThan(1.2 * tilted.width);
  expect(level.size).toBeLessThan(tilted.size);
});

test('an end that leans too deep into the wall is refused', async () => {
  const dir = bench();
  writeFileSync(join(dir, CUTTER), FLAT);
  mend(dir, 'parts/barrel.yaml', (text) => text.replace(/wall: .*/, 'wall: 0.45'));
  mend(dir, 'designs/barrel-title.yaml', (text) => text.replace('min: 0.5', 'min: 4'));
  const { problems } = await refusalOf(
    openWorkshop(dir, newEnvironment()).then((workshop) => fitEdition(workshop, 'nine-lights')),
  );
  expect(problems).toMatchObject([
    {
      code: 'layout.floor-too-deep',
      where: 'designs/barrel-title.yaml: mark maker',
      values: { depth: 0.2, wall: 0.45 },
    },
  ]);
});

test('a wide end cuts lines along a slender part narrower, and it is said', async () => {
  const dir = bench();
  writeFileSync(join(dir, CUTTER), FLAT.replace('0.6', '2'));
  mend(dir, 'parts/barrel.yaml', (text) =>
    text
      .replace('z: 40, diameter: 10.88', 'z: 40, diameter: 6')
      .replace('z: 0, diameter: 40', 'z: 0, diameter: 6'),
  );
  mend(dir, 'designs/barrel-title.yaml', (text) =>
    text
      .replace(/text: Lantern/, 'text: l')
      .replace(/min: 0.5, max: 9/, 'min: 6, max: 9')
      .replace('z: 18', 'z: 10')
      .replace('depth: 0.2', 'depth: 0.12'),
  );
  const { remarks } = await fitted(dir);
  expect(remarks.map(({ code }) => code)).toContain('layout.narrower-along');
});
