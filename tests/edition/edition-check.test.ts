import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { checkEdition, foldLabel } from '../../src/edition/edition-check.js';
import { plannedNumbers } from '../../src/edition/labels.js';
import { countCalls } from '../count-calls.js';
import { lineOf } from '../words-of.js';
import { editionOf, nineLights } from './nine-lights.js';

const told = (...series: Parameters<typeof editionOf>) =>
  checkEdition(editionOf(...series), 'e.yaml').map(lineOf);

describe('an edition', () => {
  test('Nine Lights is in order', () => {
    expect(checkEdition(nineLights(), 'e.yaml')).toEqual([]);
  });

  test('two series with the same labels are both named, once, with a cure', () => {
    const lines = told({ id: 'main', to: 90 }, { id: 'second', from: 80, to: 120 });
    expect(lines).toHaveLength(1);
    expect(lines[0]).toMatch(/^e\.yaml: .*main.*second.* 80\. .*before/);
  });

  test('series that only seem to overlap are taken', () => {
    expect(told({ id: 'main', to: 90 }, { id: 'second', from: 91, to: 120 })).toEqual([]);
    expect(told({ id: 'main', to: 90 }, { id: 'filled', to: 90, pad: 3 })).toEqual([]);
    expect(told({ id: 'main', to: 9, before: 'A' }, { id: 'second', to: 9, before: 'B' })).toEqual([]);
  });

  test('an exclusion can keep two series apart', () => {
    const exclude = [{ numbers: [5], why: 'kept for the second series' }];
    expect(told({ id: 'main', to: 9, exclude }, { id: 'second', from: 5, to: 5 })).toEqual([]);
  });

  test('figures in the text before are seen through', () => {
    // 1 + 12 and 11 + 2 are both written 112.
    expect(
      told({ id: 'a', from: 12, to: 12, before: '1' }, { id: 'b', from: 2, to: 2, before: '11' }),
    ).toHaveLength(1);
  });

  test.each([
    ['letter case', 'AP ', 'ap '],
    ['width', 'AP ', 'ＡＰ '],
    ['a no-break space', 'AP ', 'AP\u00a0'],
    ['two spaces', 'AP ', 'AP  '],
    ['an invisible character', 'AP ', 'A\u200bP '],
    ['composed letters', 'É', 'E\u0301'],
    ['sharp s', 'STRASSE ', 'Straße '],
    ['a ligature', 'fi ', '\ufb01 '],
  ])('labels that differ only by %s are refused', (_what, before, other) => {
    const lines = told({ id: 'a', to: 3, before }, { id: 'b', to: 3, before: other });
    expect(lines).toHaveLength(1);
    expect(lines[0]).toContain('read the same');
  });

  test('a Roman compatibility figure reads as the letters', () => {
    // Unicode: U+2163 ROMAN NUMERAL FOUR has the compatibility decomposition <0049 0056>.
    expect(foldLabel('Ⅳ/Ⅸ')).toBe(foldLabel('IV/IX'));
    expect(foldLabel('IV/IX')).not.toBe(foldLabel('VI/IX'));
  });

  test('a series without figures for its numbers does not stop the others from being compared', () => {
    const long = { id: 'long', to: 4000, figures: 'roman' as const };
    expect(told(long, { id: 'main', to: 9 }, { id: 'second', to: 9 })).toHaveLength(1);
  });

  test('is refused exactly when two labels read the same', () => {
    const part = fc.constantFrom(undefined, '1', '11', 'A', 'a', 'I', ' ');
    const series = fc.record({
      from: fc.integer({ min: 1, max: 15 }),
      length: fc.integer({ min: 0, max: 15 }),
      figures: fc.constantFrom('arabic' as const, 'roman' as const),
      pad: fc.integer({ min: 1, max: 3 }),
      before: part,
      after: part,
    });
    fc.assert(
      fc.property(series, series, (a, b) => {
        const given = editionOf(
          { ...a, id: 'a', to: a.from + a.length },
          { ...b, id: 'b', to: b.from + b.length },
        );
        const labels = plannedNumbers(given).map(({ label }) => label.trim().toLowerCase());
        const clash = labels.some((label, i) => labels.indexOf(label) < i);
        expect(checkEdition(given, 'e').length > 0).toBe(clash);
      }),
      { numRuns: 300 },
    );
  });

  test('of a hundred thousand numbers twice, each label is folded once', () => {
    let lines: string[] = [];
    const folded = countCalls(String.prototype, 'toLowerCase', () => {
      lines = told({ id: 'a', to: 99_999 }, { id: 'b', to: 99_999, before: 'B' });
    });
    expect(lines).toEqual([]);
    expect(folded).toBe(2 * 99_999);
  });
});
