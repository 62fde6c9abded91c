import { describe, expect, test } from 'vitest';
import { problem } from '../../src/cutting/messages.js';
import { findingBetween, findingsWithin, minFeatureFindings } from '../../src/cutting/min-feature.js';
import { minFeatureProblem } from '../../src/cutting/min-feature-problem.js';
import type { Path } from '../../src/geometry/path.js';
import type { Phrase } from '../../src/problem.js';
import { describeProblem, phraseWords } from '../words-of.js';
import { found, GROOVE, lettersAgainstGrid, plain, TRACE } from './min-feature-letters.js';

lettersAgainstGrid('Be#');

const line = (...xy: number[]): Path => ({ points: Float64Array.from(xy), closed: false });
const ring = (...xy: number[]): Path => ({ points: Float64Array.from(xy), closed: true });

describe('what is found, by figures worked out by hand', () => {
  const box = (w: number) => ({ name: 'box', paths: [ring(0, 0, w, 0, w, 2, 0, 2)] });

  test('a counter: a loop 0.28 wide less a cut of 0.2 leaves 0.08; cured by its own figures', () => {
    const [one, ...more] = findingsWithin(box(0.28), TRACE);
    expect(more).toEqual([]);
    expect(one!.measured).toBeCloseTo(0.08, 2);
    expect(one!.sizeFactor).toBeCloseTo(0.3 / 0.28, 2);
    expect(one!.widthAtMost).toBeCloseTo(0.18, 2);
    expect(findingsWithin(box(0.28 * one!.sizeFactor! + 0.002), TRACE)).toEqual([]);
    expect(findingsWithin(box(0.28), { ...TRACE, cutWidth: one!.widthAtMost! - 0.002 })).toEqual([]);
  });

  test('a counter that the cut has filled altogether is found too', () => {
    expect(findingsWithin(box(0.15), TRACE)[0]).toMatchObject({ kind: 'land', measured: 0 });
  });

  test('a counter is parted by a neck 0.25 wide', () => {
    const paths = [
      ring(0, 0, 1, 0, 1, 1, 0.625, 1, 0.625, 2, 1, 2, 1, 3, 0, 3, 0, 2, 0.375, 2, 0.375, 1, 0, 1),
    ];
    const all = findingsWithin({ name: 'neck', paths }, TRACE);
    expect(all.some((f) => f.kind === 'land' && Math.abs(f.measured - 0.05) < 0.005)).toBe(true);
  });

  test('two letters too near, and how far apart they must be', () => {
    const a = { name: 'l', paths: [line(0, 0, 0, 2)] };
    const b = (x: number) => ({ name: 'I', paths: [line(x, 0, x, 2)] });
    const gap = findingBetween(a, b(0.26), TRACE)!;
    expect(gap).toMatchObject({ kind: 'land', name: 'l', second: 'I' });
    expect(gap.measured).toBeCloseTo(0.06, 9);
    expect(gap.spacing).toBeCloseTo(0.04, 9);
    expect(findingBetween(a, b(0.26 + gap.spacing! + 1e-9), TRACE)).toBeUndefined();
    expect(minFeatureFindings({ pieces: [a, b(0.26)], ...TRACE })).toEqual([gap]);
    expect(findingBetween(a, b(0.31), TRACE)).toBeUndefined();
    // lines that cross are meant to
    expect(findingBetween(a, { name: 'x', paths: [line(-1, 1, 1, 1)] }, TRACE)).toBeUndefined();
  });

  test('a dot that the cut joins to its stem', () => {
    const dotted = (y: number) => ({ name: 'i', paths: [line(0, 0, 0, 1), line(0, y, 0, y + 0.02)] });
    expect(findingsWithin(dotted(1.15), TRACE)).toMatchObject([{ kind: 'land', measured: 0 }]);
    expect(findingsWithin(dotted(1.31), TRACE)).toEqual([]);
  });

  test('corners sharper than 23 degrees run out too long: land / 2 (1 / sin(a / 2) - 1), plane trigonometry', () => {
    const wedge = (degrees: number) => {
      const half = (degrees * Math.PI) / 360;
      const x = 6 * Math.tan(half);
      return findingsWithin(
        { name: 'v', paths: [ring(-x, 6, -x - 1, 6, -x - 1, -1, x + 1, -1, x + 1, 6, x, 6, 0, 0)] },
        { way: 'groove', cutWidth: 0.4, tip: 0, land: 0.1 },
      );
    };
    expect(wedge(25)).toEqual([]);
    const [spur] = wedge(20);
    expect(spur).toMatchObject({ kind: 'spur', needed: 0.2 });
    expect(spur!.measured).toBeCloseTo(0.05 * (1 / Math.sin(Math.PI / 18) - 1), 2);
  });

  test('a bar thinner than the tip, between two blocks, is thin where it is', () => {
    const paths = [ring(0, 0, 1, 0, 1, 0.45, 2, 0.45, 2, 0, 3, 0, 3, 1, 2, 1, 2, 0.52, 1, 0.52, 1, 1, 0, 1)];
    const thin = findingsWithin({ name: 'H', paths }, { ...GROOVE, land: 0.01 });
    expect(thin).toMatchObject([{ kind: 'thin', needed: 0.08 }]);
    expect(thin[0]!.measured).toBeCloseTo(0.07, 4);
    expect(thin[0]!.at[0]).toBeGreaterThan(0.95);
    expect(thin[0]!.at[0]).toBeLessThan(2.05);
    // cleared flat, the whole width of the cut must find room
    expect(
      findingsWithin({ name: 'H', paths }, { ...GROOVE, way: 'clear', cutWidth: 0.06, land: 0.01 }),
    ).toEqual([]);
  });

  test('letters of a stem alone are never too close', () => {
    for (const character of 'ILTVlv1-')
      expect(found(plain, character, 1.4, TRACE).filter((f) => f.kind === 'land')).toEqual([]);
  });

  test('a finding is a problem with the changes that mend it, rounded so that they do', () => {
    const e = findingsWithin({ ...box(0.28), name: 'e', place: 'label 12/90' }, TRACE)[0]!;
    const problem = minFeatureProblem(e);
    expect(problem).toMatchObject({
      code: 'cutting.land-too-narrow',
      values: { name: 'e', second: 'none', measured: '0.080', needed: '0.100' },
    });
    expect(problem.where).toMatch(/^label 12\/90, x 0\.14 y \d\.\d\d mm$/);
    expect(phraseWords(problem.values.changes as Phrase[])).toMatch(
      /^make it 1\.0[78] times as large, or cut 0\.1[78]0 mm wide at most, shallower or with a finer cutter$/,
    );
  });
  test('the sentence names one letter, or both', () => {
    const values = { name: 'r', measured: '0.080', needed: '0.100', changes: 'make it larger' };
    const messageWith = (second: string) =>
      describeProblem(problem('cutting.land-too-narrow', 'mark', { ...values, second })).message;
    expect(messageWith('none')).toBe(
      'The strokes in "r" are too close to cut: the land between them is 0.080 mm wide and must be 0.100 mm.',
    );
    expect(messageWith('n')).toBe(
      'The strokes of "r" and "n" are too close to cut: the land between them is 0.080 mm wide and must be 0.100 mm.',
    );
  });
});
