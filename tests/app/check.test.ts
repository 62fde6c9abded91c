import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { cp } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { describe, expect, test } from 'vitest';
import { checkWorkshop } from '../../src/app/check.js';
import { cutJob, writePrograms } from '../../src/app/cut.js';
import { openWorkshop } from '../../src/app/workshop.js';
import { plannedNumbers } from '../../src/edition/labels.js';
import { Refusal } from '../../src/problem.js';
import { cleanAfterEach, newEnvironment, newFolder, newWorkshopCopy, refusalOf } from './workshop.js';

cleanAfterEach();

/** The codes with which `check` refuses the sample workshop after one of its files is changed. */
async function codesAfter(file: string, make: (text: string) => string): Promise<string[]> {
  const { dir } = await newWorkshopCopy();
  const path = join(dir, file);
  const before = readFileSync(path, 'utf8');
  const after = make(before);
  expect(after).not.toBe(before);
  writeFileSync(path, after);
  const { problems } = await refusalOf(checkWorkshop(dir, newEnvironment()));
  return problems.map((p) => p.code);
}

describe('what cut would refuse, check refuses', () => {
  for (const line of ['M6 T1', 'G64 P0.01', 'G43 P1', 'G92.1'])
    for (const place of ['before', 'after'])
      test(`${line} in ${place}`, async () => {
        const codes = await codesAfter(
          'stations/rotary-level.yaml',
          (t) => `${t.replace(/^(before|after):.*\n(?: +-.*\n)*/gm, '')}${place}:\n  - ${line}\n`,
        );
        expect(codes).toEqual(['documents.station-word']);
      });

  for (const [place, line, code] of [
    ['before', 'G54 G55', 'station-same-group'],
    ['before', 'G40 G40', 'station-same-group'],
    ['before', 'M7 M8', 'station-same-group'],
    ['before', 'S10 S20', 'station-same-group'],
    ['before', 'G4', 'station-dwell-without-time'],
    ['before', 'P1', 'station-time-without-dwell'],
    ['before', 'G4 P999999999999999', 'station-long-number'],
    ['after', 'M3 S1000', 'station-spindle-after'],
    ['after', 'G54', 'station-zero-after'],
  ] as const)
    test(`${line} in ${place}, which RS274/NGC or the reader forbids there`, async () => {
      const codes = await codesAfter(
        'stations/rotary-level.yaml',
        (t) => `${t.replace(/^(before|after):.*\n(?: +-.*\n)*/gm, '')}${place}:\n  - ${line}\n`,
      );
      expect(codes).toEqual([`documents.${code}`]);
    });

  test('Z 0 on the axis of a tilted set-up', async () => {
    const codes = await codesAfter('stations/rotary-tilted.yaml', (t) =>
      t.replace(/zero: touch/, 'zero: axis'),
    );
    expect(codes).toEqual(['documents.tilted-on-axis']);
  });
});

const FIRST_BENCH = resolve(import.meta.dirname, '../../templates/first-bench');

/** The first bench with some of its files changed. */
async function firstBench(changes: Readonly<Record<string, (text: string) => string>>): Promise<string> {
  const dir = join(newFolder(), 'bench');
  await cp(FIRST_BENCH, dir, { recursive: true });
  for (const [file, make] of Object.entries(changes)) {
    const path = join(dir, file);
    const before = readFileSync(path, 'utf8');
    const after = make(before);
    expect(after).not.toBe(before);
    writeFileSync(path, after);
  }
  return dir;
}

/** The first bench with nine pieces in Roman numerals, of which VIII is the widest, and a station changed. */
const romanBench = (station: (text: string) => string): Promise<string> =>
  firstBench({
    'editions/first.yaml': (t) => t.replace(/to: 25[\s\S]*/, 'to: 9\n    figures: roman\n'),
    'stations/rotary-level.yaml': station,
  });

/** The labels whose programs the only station refuses, as a cut of every piece by itself finds it. */
async function labelsThatCutRefuses(dir: string): Promise<string[]> {
  const workshop = await openWorkshop(dir, newEnvironment());
  const edition = workshop.documents.editions.get('first')!;
  const planned = plannedNumbers(edition);
  return planned.flatMap((one) => {
    const job = { edition, id: 'first', planned, station: 'rotary-level', wanted: [one] };
    try {
      for (const _ of writePrograms(workshop, job, cutJob(workshop, job)));
      return [];
    } catch (error) {
      if (error instanceof Refusal) return [one.label];
      throw error;
    }
  });
}

describe('a fault that only a piece in the middle of its series has', () => {
  const limits = (change: string) => (t: string) =>
    t.replace('a: { sign: 1, offset: 0, speed: 7200 }', `a: { sign: 1, offset: 0, ${change} }`);

  test('past the travel of A: refused, with the label', async () => {
    const dir = await romanBench(limits('min: 170, max: 190, speed: 7200'));
    expect(await labelsThatCutRefuses(dir)).toEqual(['VII', 'VIII']);
    const { exit, problems } = await refusalOf(checkWorkshop(dir, newEnvironment()));
    expect(exit).toBe(1);
    expect(problems).toMatchObject([
      {
        code: 'station.travel-past-limit',
        where: 'stations/rotary-level.yaml: edition first: label VII: mark number, V',
      },
    ]);
  });

  test('the feed that is advised for a slow axis is one at which every piece can be cut', async () => {
    const slow = (axis: 'x' | 'a') => (t: string) =>
      axis === 'a' ? limits('speed: 60')(t) : t.replace(/(x: \{.*?speed: )\d+/, '$11');
    for (const axis of ['x', 'a'] as const) {
      const dir = await romanBench(slow(axis));
      const { problems } = await refusalOf(checkWorkshop(dir, newEnvironment()));
      expect(problems.map((p) => p.code)).toEqual(problems.map(() => 'station.axis-too-slow'));
      const advised = Number(problems[0]!.values.largest);
      for (const file of readdirSync(join(dir, 'cutters'))) {
        const path = join(dir, 'cutters', file);
        writeFileSync(path, readFileSync(path, 'utf8').replace(/^feed: .*$/m, `feed: ${advised}`));
      }
      await checkWorkshop(dir, newEnvironment());
      // More than the digits of the advice leave open is too much.
      for (const file of readdirSync(join(dir, 'cutters'))) {
        const path = join(dir, 'cutters', file);
        writeFileSync(path, readFileSync(path, 'utf8').replace(/^feed: .*$/m, `feed: ${advised * 1.011}`));
      }
      await refusalOf(checkWorkshop(dir, newEnvironment()));
    }
  });

  test('wherever the limits of A are set, check refuses where cut does', async () => {
    const found: boolean[] = [];
    for (const reach of [2, 4, 6, 8, 10, 12, 14, 16]) {
      const dir = await romanBench(limits(`min: ${180 - reach}, max: ${180 + reach}, speed: 7200`));
      const refused = (await labelsThatCutRefuses(dir)).length > 0;
      const checked = await checkWorkshop(dir, newEnvironment()).then(
        () => false,
        () => true,
      );
      expect(checked, `A within ${reach} degrees`).toBe(refused);
      found.push(refused);
    }
    expect(new Set(found).size).toBe(2);
  });
});

describe('files of a piece that would share a name', () => {
  const number = (surface: string, cutter: string, z: number) =>
    `  - {id: n${z}, kind: number, surface: ${surface}, baseline: ring, place: {z: ${z}, angle: 90}, font: burin-plain, size: 1, cutter: '${cutter}', depth: 0.08}\n`;
  const surfaces = (second: string) => ({
    'parts/cap.yaml': (t: string) =>
      t.replace(
        / {2}- \{ id: body.*\n/,
        `  - {id: body, from: 0, to: 25, clearance: 0.3}\n  - {id: ${second}, from: 25, to: 50, clearance: 0.3}\n`,
      ),
  });
  const marks = (text: string) => ({
    'designs/cap-number.yaml': (t: string) => t.replace(/marks:[\s\S]*/, `marks:\n${text}`),
  });

  test('programs: refused, and both are named', async () => {
    const dir = await firstBench({
      ...surfaces('body-drag'),
      ...marks(number('body', 'drag-12', 9) + number('body-drag', '12', 32)),
    });
    await cp(join(dir, 'cutters/drag-12.yaml'), join(dir, 'cutters/12.yaml'));
    const { problems } = await refusalOf(checkWorkshop(dir, newEnvironment()));
    expect(problems).toMatchObject([
      {
        code: 'documents.piece-files-clash',
        where: 'editions/first.yaml:4:10: designs',
        values: {
          one: 'cutter drag-12 on surface body of part cap',
          other: 'cutter 12 on surface body-drag of part cap',
          file: 'cap-body-drag-12.nc',
        },
      },
    ]);
  });

  test('sheets: refused, and both are named', async () => {
    const dir = await firstBench({
      ...surfaces('body-x'),
      ...marks(number('body-x', 'drag-12', 32)),
      'editions/first.yaml': (t) => t.replace('[cap-number]', '[cap-number, other]'),
    });
    const part = readFileSync(join(dir, 'parts/cap.yaml'), 'utf8');
    writeFileSync(join(dir, 'parts/cap-body.yaml'), part.replace('id: body-x', 'id: x'));
    const design = readFileSync(join(dir, 'designs/cap-number.yaml'), 'utf8');
    const other = design.replace('part: cap', 'part: cap-body').replace('surface: body-x', 'surface: x');
    writeFileSync(join(dir, 'designs/other.yaml'), other);
    const { problems } = await refusalOf(checkWorkshop(dir, newEnvironment()));
    expect(problems.map(({ code, values }) => [code, values.file])).toEqual([
      ['documents.piece-files-clash', 'cap-body-x.svg'],
      ['documents.piece-files-clash', 'cap-body-x-drag-12.nc'],
    ]);
  });

  test('names that part elsewhere stay apart', async () => {
    const dir = await firstBench({
      ...surfaces('body-drag'),
      ...marks(number('body', 'drag-12', 9) + number('body-drag', 'drag-12', 32)),
    });
    expect((await checkWorkshop(dir, newEnvironment())).ok).toBe(true);
  });
});
