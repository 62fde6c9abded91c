import { describe, expect, test } from 'vitest';
import { plannedNumbers } from '../../src/edition/labels.js';
import { nearMissFinder } from '../../src/edition/near-miss.js';
import { reasonPhrase } from '../../src/edition/near-miss-reason.js';
import { phraseWords } from '../words-of.js';
import { editionOf, nineLights } from './nine-lights.js';

const lights = plannedNumbers(nineLights());
const padded = plannedNumbers(
  editionOf(
    { id: 'main', to: 120, pad: 3, total: { joiner: '/' } },
    { id: 'ap', to: 120, figures: 'roman', before: 'AP ' },
  ),
);

const found = (text: string, plan = lights) =>
  nearMissFinder(plan)(text).map(({ candidate, reason }) => [
    candidate.label,
    phraseWords(reasonPhrase(reason)),
  ]);

describe('a near miss is named, with its reason:', () => {
  test.each([
    ['1O/90', '10/90', /O and 0/],
    ['1o/9O', '10/90', /O and 0/],
    ['l2/90', '12/90', /I or l and 1/],
    ['I2/90', '12/90', /I or l and 1/],
    ['2l/90', '21/90', /I or l and 1/],
    ['ll/90', '11/90', /I or l and 1/],
    ['|1/90', '11/90', /I or l and 1/],
    ['12 / 90', '12/90', /^blanks$/],
    [' 12/90', '12/90', /^blanks$/],
    ['12\u00a0/90', '12/90', /blanks/],
    ['a.p. iv/ix', 'A.P. IV/IX', /^capital and small letters$/],
    ['１２/９０', '12/90', /full-width/],
    ['A.P. Ⅳ/Ⅸ', 'A.P. IV/IX', /other forms/],
    ['А.Р. IV/IX', 'A.P. IV/IX', /^letters of another script that look the same$/],
    ['A.P. ΙV/IX', 'A.P. IV/IX', /^letters of another script that look the same$/],
    ['A.P. ІV/IX', 'A.P. IV/IX', /^letters of another script that look the same$/],
    ['12\u200b/90', '12/90', /^an invisible character$/],
    ['\u202e12/90', '12/90', /^an invisible character$/],
    ['A.P. IIII/IX', 'A.P. IV/IX', /IV is written IIII/],
    ['A.P. VIIII/IX', 'A.P. IX/IX', /IX is written VIIII/],
    ['A.P. IIX/IX', 'A.P. VIII/IX', /VIII is written IIX/],
    ['012/90', '12/90', /leading zeros/],
    ['12-90', '12/90', /signs between/],
    ['12/09', '12/90', /the digits 90 are swapped/],
    ['12/100', '12/90', /the total is 90, not 100/],
    ['A.P. IV/X', 'A.P. IV/IX', /the total is IX, not X/],
    ['12', '12/90', /the total 90 is missing/],
    ['A.P. IV', 'A.P. IV/IX', /the total IX is missing/],
    ['IV/IX', 'A.P. IV/IX', /"A\.P\." before the number is missing/],
    ['AP IV/IX', 'A.P. IV/IX', /^dots in the letters$/],
    ['A.P. 4/9', 'A.P. IV/IX', /^IV for 4$/],
    ['A.P. 4/IX', 'A.P. IV/IX', /^IV for 4$/],
    ['XII/90', '12/90', /^12 for XII$/],
    ['H.C. IV/IX', 'A.P. IV/IX', /"A\.P\." goes before the number, not "H\.C\."/],
    ['A.P. 12/90', '12/90', /nothing goes before the number, not "A\.P\."/],
    ['1290', '12/90', /^signs between the numbers$/],
    ['12 of 90', '12/90', /words around the number/],
    ['No. 12/90', '12/90', /^words around the number/],
    ['12th/90', '12/90', /^words around the number$/],
    ['(12/90)', '12/90', /^signs between the numbers$/],
    ['12\\90', '12/90', /^signs between the numbers$/],
    ['S/90', '5/90', /^S and 5, or B and 8$/],
    ['B/90', '8/90', /^S and 5, or B and 8$/],
  ])('%s', (text, label, reason) => {
    const one = found(text).find(([l]) => l === label);
    expect(one?.[1]).toMatch(reason);
  });

  test('a missing filling', () => {
    expect(found('12/120', padded)).toEqual([['012/120', 'leading zeros']]);
  });

  test('figures that stand swapped, though both numbers are planned', () => {
    expect(found('201/120', padded).map(([l]) => l)).toContain('021/120');
    expect(found('102/120x', padded)).toEqual([]);
  });

  test('Roman slips beyond one figure', () => {
    expect(found('AP IC', padded)).toEqual([
      ['AP XCIX', 'XCIX is written IC'],
      ['AP CI', 'the digits CI are swapped'],
    ]);
    expect(found('AP XXXX', padded)).toEqual([['AP XL', 'XL is written XXXX']]);
    expect(found('AP VX', padded).map(([l]) => l)).toEqual(['AP V', 'AP XV']);
    expect(found('AP VV', padded)).toEqual([['AP X', 'X is written VV']]);
  });
});

describe('nothing is suspected of', () => {
  test.each(['12/90', 'A.P. IV/IX', '', '   ', 'tray 7', '200/90', '=SUM(A1)', '🖋'])('%s', (text) => {
    expect(found(text)).toEqual([]);
  });
});

test('each of a hundred thousand labels is found', () => {
  const many = plannedNumbers(editionOf({ id: 'main', to: 99_999, pad: 5, total: { joiner: '/' } }));
  const look = nearMissFinder(many);
  look('x');
  for (let n = 1; n <= 1000; n++) expect(look(`${n}/99999`)[0]?.candidate.number).toBe(n);
});
