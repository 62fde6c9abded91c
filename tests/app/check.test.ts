import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { checkWorkshop } from '../../src/app/check.js';
import { cleanAfterEach, newEnvironment, newWorkshopCopy, refusalOf } from './workshop.js';

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

  test('Z 0 on the axis of a tilted set-up', async () => {
    const codes = await codesAfter('stations/rotary-tilted.yaml', (t) =>
      t.replace(/zero: touch/, 'zero: axis'),
    );
    expect(codes).toEqual(['documents.tilted-on-axis']);
  });

  test('a program longer than a read-back takes, by its passes', async () => {
    const codes = await codesAfter('materials/lantern-resin.yaml', (t) =>
      t.replace(/^pass: .*$/m, 'pass: 0.001'),
    );
    expect(new Set(codes)).toEqual(new Set(['station.program-too-long']));
  });
});
