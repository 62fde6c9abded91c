import { describe, expect, test } from 'vitest';
import type { Edition } from '../../../src/documents/schema/edition.js';
import type { NumberStatus, PartStatus, State } from '../../../src/register/lifecycle.js';
import { readSeenLabels, stocktake } from '../../../src/register/stocktake/stocktake.js';
import { nineLights } from '../../edition/nine-lights.js';
import { lineOf } from '../../words-of.js';

const edition: Edition = nineLights();
const standing = (number: number, state: State, more: Partial<NumberStatus> = {}): NumberStatus => ({
  ...{ series: 'main', number, label: `${number}/90`, state, since: '2021-03-01', pieces: 1, parts: [] },
  ...more,
});
const known = [
  standing(1, 'engraved'),
  standing(2, 'inspected'),
  standing(3, 'delivered'),
  standing(4, 'destroyed'),
  standing(5, 'void', { pieces: 0 }),
  standing(6, 'issued'),
  standing(7, 'withheld', { withheldFrom: 'inspected' }),
];
const found = (list: string, replay = known, of = edition) => {
  const rows = readSeenLabels('seen.csv', Buffer.from(list));
  const { findings, ...rest } = stocktake(of, 'nine-lights', replay, rows);
  return {
    ...rest,
    told: findings.map(({ code, row, label }) => [code.replace('stocktake.', ''), row, label]),
    findings,
  };
};

describe('a stocktake', () => {
  test('that agrees finds nothing; blanks and delivered pieces are not missed', () => {
    const { ok, told, agreeing, seen } = found('label,place\r\n1/90,tray 1\r\n2/90,tray 1\r\n7/90,safe\r\n');
    expect([ok, told, agreeing, seen]).toEqual([true, [], 3, 3]);
    expect(found('label\n1/90\n2/90\n6/90\n7/90\n').ok).toBe(true);
  });

  test('names each kind of difference, with its row', () => {
    const list = [
      'label,place',
      '1/90,a',
      '1/90,b',
      '3/90,a',
      '4/90,a',
      '5/90,a',
      '9/90,a',
      'tray seven,a',
      '7/9O,a',
      '',
    ];
    const { told, findings, agreeing } = found(list.join('\r\n'));
    expect(told).toEqual([
      ['double', 3, '1/90'],
      ['delivered', 4, '3/90'],
      ['destroyed', 5, '4/90'],
      ['void', 6, '5/90'],
      ['not-issued', 7, '9/90'],
      ['unexpected', 8, 'tray seven'],
      ['near-miss', 9, '7/9O'],
      ['missing', undefined, '2/90'],
    ]);
    expect(agreeing).toBe(1);
    expect(findings[0]!.values).toEqual({ label: '1/90', row: 2 });
    expect(lineOf(findings[6]!)).toContain('Near it: 7/90 (O and 0).');
    // 7/90 was seen, if badly written: it is not missed as well.
    expect(findings[7]!.values).toEqual({ label: '2/90', state: 'inspected' });
  });

  test('counts parts apart', () => {
    const parts: PartStatus[] = [
      { part: 'barrel', state: 'engraved', pieces: 1 },
      { part: 'cap', state: 'destroyed', pieces: 1 },
    ];
    const own = [standing(1, 'destroyed', { parts })];
    const { told, findings } = found('label,part\n1/90,barrel\n1/90,cap\n1/90,nib\n1/90,barrel\n', own);
    expect(told).toEqual([
      ['part-destroyed', 3, '1/90'],
      ['part-unknown', 4, '1/90'],
      ['double', 5, '1/90'],
    ]);
    expect(findings[0]!.values).toEqual({ label: '1/90', part: 'cap' });
    expect(findings[1]!.values).toEqual({ label: '1/90', part: 'nib' });
  });

  test('shows what nobody sees', () => {
    const { findings } = found('label\n"1/90\u202e"\n"\u200bx"\n', []);
    expect(lineOf(findings[0]!)).toContain(
      '"1/90<U+202E>" is not a label of the edition. Near it: 1/90 (an invisible character).',
    );
    expect(findings[1]).toMatchObject({
      code: 'stocktake.unexpected-invisible',
      values: { characters: ['U+200B'] },
    });
  });

  test('says of a label that was left out why, and that one in two scripts is none', () => {
    const [main] = edition.series;
    const of = { ...edition, series: [{ ...main!, exclude: [{ numbers: [13], why: 'unlucky' }] }] };
    const { findings, ok } = found('label\n13/90\n\u0410 tray of A\u0392\n', [], of);
    expect([ok, findings]).toMatchObject([
      false,
      [
        { code: 'stocktake.excluded', row: 2, values: { label: '13/90', series: 'main', why: 'unlucky' } },
        { code: 'stocktake.unexpected-mixed-scripts', row: 3 },
      ],
    ]);
  });

  test('knows a piece that was missing, and what is wrong with a whole one through its part', () => {
    const parts: PartStatus[] = [{ part: 'cap', state: 'engraved', pieces: 1 }];
    const own = [
      standing(1, 'lost', { missingFrom: 'inspected' }),
      standing(2, 'stolen', { parts }),
      standing(3, 'delivered', { parts }),
      standing(4, 'engraved', { parts }),
      standing(5, 'planned', { pieces: 0 }),
      standing(6, 'withheld', { withheldFrom: 'planned', pieces: 0 }),
      standing(7, 'scrapped'),
    ];
    const list = 'label,part\n1/90,\n2/90,cap\n3/90,cap\n4/90,cap\n5/90,\n6/90,\n7/90,\n';
    const { told, findings, agreeing } = found(list, own);
    expect(told).toEqual([
      ['was-missing', 2, '1/90'],
      ['was-missing', 3, '2/90'],
      ['delivered', 4, '3/90'],
      ['not-issued', 6, '5/90'],
      ['not-issued', 7, '6/90'],
    ]);
    expect(findings.slice(0, 2).map(({ values }) => values.state)).toEqual(['lost', 'stolen']);
    expect(agreeing).toBe(2);
  });
});
