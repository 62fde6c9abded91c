import { describe, expect, test } from 'vitest';
import { checkOf, hasValidCheck } from '../../src/edition/check-character.js';
import { labelIndexOf } from '../../src/edition/label-index.js';
import { plannedNumbers } from '../../src/edition/labels.js';
import { findNumber, findTicket, ticketOf } from '../../src/edition/ticket.js';
import { editionOf, nineLights } from './nine-lights.js';

const lights = nineLights();
const index = labelIndexOf(lights, 'nine-lights');
const read = (text: string) => findNumber(index, text);
const refused = (text: string): string => {
  const found = read(text);
  if (found.ok) throw new Error(`read as ${found.numbered.label}`);
  return found.problem.code;
};

describe('a ticket', () => {
  test('ends in the check of what stands on it', () => {
    const ticket = ticketOf('nine-lights', 'main', 12);
    expect(ticket).toMatch(/^NL-MAIN-0012-[0-9A-Z*]$/);
    expect(hasValidCheck('MOD 37-2', ticket.replaceAll('-', ''))).toBe(true);
    expect(ticketOf('tides', 'ap-first', 99_999)).toMatch(/^TIDES-AP-FIRST-99999-.$/);
  });

  test('leads back to its number', () => {
    for (const numbered of plannedNumbers(lights)) {
      const ticket = ticketOf('nine-lights', numbered.series, numbered.number);
      expect(read(ticket)).toEqual({ ok: true, numbered });
      expect(read(` ${ticket.toLowerCase()} `)).toEqual({ ok: true, numbered });
    }
  });

  test('stands for one number only', () => {
    const wide = plannedNumbers(editionOf({ id: 'main', to: 12_000 }, { id: 'ap', to: 12_000, before: 'A' }));
    const tickets = wide.map((n) => ticketOf('nine-lights', n.series, n.number));
    expect(new Set(tickets).size).toBe(24_000);
  });

  test('mistyped is told from another', () => {
    const ticket = ticketOf('nine-lights', 'main', 12);
    expect(refused(ticket.replace('0012', '0021'))).toBe('edition.ticket-check');
    expect(refused(ticket.replace('0012', 'O012'))).toBe('edition.ticket-letter');
    expect(refused(ticket.replace('NL', 'ML'))).toBe('edition.ticket-check');
    expect(refused(ticketOf('other-things', 'main', 12))).toBe('edition.ticket-of-other-edition');
    expect(refused(ticketOf('nine-lights', 'main', 91))).toBe('edition.ticket-not-planned');
    expect(refused(ticketOf('nine-lights', 'hors', 1))).toBe('edition.ticket-not-planned');
    expect(findTicket(index, '12/90')).toMatchObject({ problem: { code: 'edition.not-a-ticket' } });
    const text = 'NL-MAIN-00012';
    const padded = `${text}-${checkOf('MOD 37-2', text.replaceAll('-', ''))}`;
    expect(findTicket(index, padded)).toMatchObject({
      problem: { code: 'edition.ticket-padding', values: { ticket } },
    });
  });

  test('with any one character wrong is refused', () => {
    const ticket = ticketOf('nine-lights', 'proofs', 9);
    for (let i = 0; i < ticket.length; i++) {
      for (const wrong of '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ*') {
        if (wrong !== ticket[i])
          expect(read(ticket.slice(0, i) + wrong + ticket.slice(i + 1)).ok).toBe(false);
      }
    }
  });
});

describe('a label', () => {
  test('is taken as it stands', () => {
    expect(read('12/90')).toEqual({ ok: true, numbered: plannedNumbers(lights)[11] });
  });

  test('that is none is refused, with what was probably meant', () => {
    expect(refused('l2/90')).toBe('edition.label-mistyped');
    expect(refused('no such')).toBe('edition.label-unknown');
  });
});
