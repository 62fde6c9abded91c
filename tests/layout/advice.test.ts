import { describe, expect, test } from 'vitest';
import { design } from '../../src/documents/schema/design.js';
import type { Part } from '../../src/documents/schema/part.js';
import { fitMark, type NearestChange } from '../../src/layout/fit.js';
import { fitMarks, type MarkFit } from '../../src/layout/fit-marks.js';
import { marksToFit } from '../../src/layout/mark-to-fit.js';
import { misfits } from '../../src/layout/misfit.js';
import { StepBudget } from '../../src/layout/step-budget.js';
import { surfacesOf } from '../../src/surface/part-surfaces.js';
import { figures } from '../artwork/measure.js';
import { lineOf } from '../words-of.js';
import { barrel, font, numberRequest } from './requests.js';

/** A tube of 12 mm with nothing on it, as an outsider laid it out. */
const tube = {
  kind: 'part',
  version: 1,
  name: 'Tube',
  material: 'resin',
  wall: 2,
  profile: [
    { z: 0, diameter: 12 },
    { z: 60, diameter: 12 },
  ],
  surfaces: [{ id: 'side', from: 0, to: 60, clearance: 0 }],
  keepouts: [],
} as unknown as Part;

type Fields = Readonly<Record<string, unknown>>;
const fitOf = (fields: Fields, part = tube): MarkFit => {
  const plain = { baseline: 'ring', place: { z: 30, angle: 0 }, font: 'burin-plain', size: 2 };
  const ends = { surface: 'side', cutter: 'cutter', depth: 0.1 };
  const marks = [{ id: 'm', kind: 'inscription', ...plain, ...ends, ...fields }];
  const parsed = design.parse({ kind: 'design', version: 1, name: 'D', part: 'tube', marks });
  const cutter = { shape: 'cone', tip: 0.02, angle: 30, depth: 0.5 } as never;
  const designs = [{ id: 'd', design: parsed, part, surfaces: surfacesOf(part) }];
  const fonts = new Map([['burin-plain', font]]);
  const cutters = new Map([['cutter', cutter]]);
  return fitMarks(marksToFit({ designs, cutters, fonts, motifs: new Map(), labels: [] }))[0]!;
};
const nearestOf = (fit: MarkFit): readonly NearestChange[] => {
  if (fit.kind !== 'shared' || fit.result.ok) throw new Error('It fits.');
  return fit.result.nearest;
};

describe('the change that is advised is one with which the mark fits', () => {
  const closes = { separator: '.', times: 'most' };
  test.each<[name: string, fields: Fields, keys: readonly string[]]>([
    ['far too large', { text: 'ABCDEFGHIJ', size: 20 }, ['size']],
    ['too large by a little', { text: 'ABCDEFGHIJ', size: 5 }, ['size']],
    ['a range that is too large', { text: 'ABCDEFGHIJ', size: { min: 30, max: 40 } }, ['size']],
    ['an arc of one degree', { text: 'HELLO WORLD', arc: 1 }, ['arc']],
    ['an arc of one degree, at 0.2 mm', { text: 'HELLO WORLD', arc: 1, size: 0.2 }, ['arc']],
    ['an arc that is too short for its size', { text: 'HELLO WORLD', arc: 100 }, ['size', 'arc']],
    ['letters that run into one another', { text: 'i', spacing: -0.5, closes }, ['spacing']],
    ['letters far apart', { text: 'HELLO WORLD', spacing: 5, closes: {} }, ['size', 'spacing']],
    ['words too often', { text: 'HELLO WORLD', closes: { times: 9 } }, ['size', 'times']],
  ])('%s', (_, fields, keys) => {
    const fit = fitOf(fields);
    const nearest = nearestOf(fit);
    expect(misfits(fit).map(lineOf)[0]).toMatch(/Nearest change: /);
    expect(nearest.map(({ change }) => change)).toEqual(keys);
    for (const one of nearest) {
      const to = one.change === 'size' ? one.size : one.to;
      const key =
        one.change === 'times'
          ? { closes: { ...(fields.closes as object), times: to } }
          : { [one.change]: to };
      expect(misfits(fitOf({ ...fields, ...key })).map(lineOf)).toEqual([]);
    }
  });

  test('a quarter is no end of it: the size named is the largest of the ladder that fits', () => {
    const [found] = nearestOf(fitOf({ text: 'ABCDEFGHIJ', size: 20 }));
    const [near] = nearestOf(fitOf({ text: 'ABCDEFGHIJ', size: 5 }));
    expect(found).toEqual(near);
  });

  test('no size is named that the document check refuses for the width of the cut', () => {
    const text = 'W'.repeat(200);
    expect(nearestOf(fitOf({ text }))).toMatchObject([{ change: 'size', size: 0.1567 }]);
    expect(nearestOf(fitOf({ text, depth: 0.14 }))).toEqual([]);
    const spread = nearestOf(fitOf({ text, depth: 0.14, closes: {} }));
    expect(spread.filter(({ change }) => change === 'size')).toEqual([]);
  });

  test('what no size would mend says so', () => {
    const fit = fitOf({ text: 'W'.repeat(200), spacing: 5, size: { min: 2, max: 3 } });
    expect(nearestOf(fit)).toEqual([]);
    expect(misfits(fit).map(lineOf)[0]).toContain('Choose another surface or a shorter text.');
  });
});

describe('on a cone with a clip, a band and a window', () => {
  const cone = barrel(12.3, 9.1);
  const random = figures(20_261_130);
  const between = (low: number, high: number): number => low + (high - low) * random();
  const oneOf = <T>(...of: readonly T[]): T => of[Math.floor(random() * of.length)]!;
  const marks = Array.from({ length: 30 }, (): Fields => {
    const spread = oneOf<Fields>(
      {},
      {},
      { arc: Math.round(between(1, 200)) },
      { closes: { separator: ' ', times: oneOf(1, 2, 5) } },
    );
    const isSpread = 'arc' in spread || 'closes' in spread;
    return {
      surface: 's',
      text: oneOf('EBB AND FLOW', 'Nine Lights', 'i', 'WWW'),
      spacing: oneOf(0, 0, -0.3, 0.4),
      baseline: isSpread ? 'ring' : oneOf('ring', 'lengthwise'),
      size: oneOf<unknown>(between(0.5, 8), { min: between(1, 4), max: 9 }),
      place: { z: between(1, 39), angle: between(0, 360) },
      ...spread,
    };
  });
  test('each change that is advised is enough, as it is printed', () => {
    const kinds = new Set<string>();
    for (const fields of marks) {
      const fit = fitOf(fields, cone);
      if (fit.kind !== 'shared' || fit.result.ok) continue;
      const place = fields.place as object;
      for (const one of fit.result.nearest) {
        kinds.add(one.change);
        const most = typeof fields.size === 'number' ? fields.size : (fields.size as { max: number }).max;
        const all =
          one.change === 'size'
            ? [{ size: one.size }, { size: { min: one.size, max: most } }]
            : one.change === 'times'
              ? [{ closes: { ...(fields.closes as object), times: one.to } }]
              : one.change === 'z' || one.change === 'angle'
                ? [{ place: { ...place, [one.change]: Number(one.to.toFixed(2)) } }]
                : [{ [one.change]: one.to }];
        for (const changed of all)
          expect(
            misfits(fitOf({ ...fields, ...changed }, cone)).map(lineOf),
            JSON.stringify([fields, one]),
          ).toEqual([]);
      }
    }
    expect([...kinds].sort()).toEqual(expect.arrayContaining(['angle', 'arc', 'size', 'z']));
  });
});

describe('the steps of advice', () => {
  const request = (budget: StepBudget) => ({
    ...numberRequest({ place: { z: 10.5, angle: 40 }, size: 20 }),
    budget,
  });
  test('are not those of the fit', () => {
    const without = new StepBudget();
    fitMark(request(without), { advice: false });
    const budget = new StepBudget();
    expect(fitMark(request(budget)).ok).toBe(false);
    expect(budget.spent).toBe(without.spent);
    expect(budget.advice.spent).toBeGreaterThan(0);
  });
  test('may run out: then less is advised, and nothing is refused for it', () => {
    const budget = new StepBudget();
    budget.advice.spend(budget.advice.most, { where: '', fixed: true });
    expect(fitMark(request(budget))).toMatchObject({ ok: false, nearest: [] });
  });
});
