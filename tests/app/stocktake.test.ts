import { describe, expect, test } from 'vitest';
import { readSeen, stocktake } from '../../src/app/stocktake.js';
import type { Edition } from '../../src/documents/schema/edition.js';
import type { NumberStatus, PartStatus, State } from '../../src/register/lifecycle.js';
import { nineLights } from '../edition/nine-lights.js';

const edition: Edition = nineLights();
const standing = (number: number, state: State, more: Partial<NumberStatus> = {}): NumberStatus => ({
  ...{ series: 'main', number, label: `${number}/90`, state, since: '2031-03-01', pieces: 1, parts: [] },
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
const found = (list: string, replay = known) => {
  const rows = readSeen('seen.csv', Buffer.from(list));
  const { findings, ...rest } = stocktake(edition, replay, rows);
  return { ...rest, told: findings.map(({ kind, row, label }) => [kind, row, label]), findings };
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
      ['wrong-state', 4, '3/90'],
      ['wrong-state', 5, '4/90'],
      ['wrong-state', 6, '5/90'],
      ['wrong-state', 7, '9/90'],
      ['unexpected', 8, 'tray seven'],
      ['near-miss', 9, '7/9O'],
      ['missing', undefined, '2/90'],
    ]);
    expect(agreeing).toBe(1);
    const said = findings.map(({ what }) => what);
    expect(said[0]).toBe('1/90 was seen before, in row 2.');
    expect(said[1]).toMatch(/on the shelf, and the register has it delivered/);
    expect(said[2]).toMatch(/has it destroyed/);
    expect(said[3]).toMatch(/has it void/);
    expect(said[4]).toMatch(/has not issued it/);
    expect(said[6]).toMatch(/near are 7\/90 \(O and 0\)/);
    // 7/90 was seen, if badly written: it is not missed as well.
    expect(said[7]).toBe('2/90 is inspected and was not seen.');
  });

  test('counts parts apart', () => {
    const parts: PartStatus[] = [
      { part: 'barrel', state: 'engraved', pieces: 1 },
      { part: 'cap', state: 'destroyed', pieces: 1 },
    ];
    const own = [standing(1, 'destroyed', { parts })];
    const { told, findings } = found('label,part\n1/90,barrel\n1/90,cap\n1/90,nib\n1/90,barrel\n', own);
    expect(told).toEqual([
      ['wrong-state', 3, '1/90'],
      ['wrong-state', 4, '1/90'],
      ['double', 5, '1/90'],
    ]);
    expect(findings[0]!.what).toMatch(/its cap seen, and the register has that destroyed/);
    expect(findings[1]!.what).toMatch(/no part nib/);
  });

  test('shows what nobody sees', () => {
    const { findings } = found('label\n"1/90\u202e"\n"\u200bx"\n', []);
    expect(findings[0]!.what).toMatch(/"1\/90<U\+202E>" is no label.*an invisible character/);
    expect(findings[1]!.what).toMatch(/holds what nobody sees \(U\+200B\)/);
  });
});
