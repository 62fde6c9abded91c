import { describe, expect, test } from 'vitest';
import { issueNumbers } from '../../src/app/issue.js';
import { STATED } from '../register/ask.js';
import { linesOf } from '../words-of.js';
import { importsManyRows, listOf, type Row, told } from './many-rows.js';
import { cleanAfterEach, newWorkshopCopy, onRegister, recordEvent, refusalOf, statesOf } from './workshop.js';

cleanAfterEach();

test('of 1,000 rows with 37 wrong ones, exactly those are reported, by row, and nothing is written', () =>
  importsManyRows(1000));

const codesOf = ({ wrong }: Awaited<ReturnType<typeof told>>) =>
  wrong.flatMap(({ row, problems }) => problems.map(({ code }) => [row, code]));

describe('on the sample edition', () => {
  const row = (number: number, more: Row = {}): Row => ({
    ...{
      series: 'main',
      number: String(number),
      label: `${String(number).padStart(2, '0')}/90`,
      state: 'issued',
    },
    ...more,
  });

  test('each event tells where it comes from, and when it was', async () => {
    const workshop = await newWorkshopCopy();
    await told(
      workshop,
      listOf([row(7, { state: 'engraved', on: '2019-05-04', by: 'A. Moss', why: 'first tray' })]),
    );
    await onRegister(workshop, async (register) => {
      const events = (await register.history('nine-lights', '07/90')).map(({ event }) => event);
      expect(events.map(({ type }) => type)).toEqual(['issued', 'engraved']);
      for (const event of events) {
        expect(event).toMatchObject({
          ...{ by: 'A. Moss', on: '2019-05-04' },
          why: 'from older register, row 2, entered by E. Marrow: first tray',
        });
      }
      expect(events[0]).toMatchObject({ parts: ['cap'] });
    });
  });

  test('numbers brought in are not issued again', async () => {
    const workshop = await newWorkshopCopy();
    await told(workshop, listOf([row(1), row(3, { state: 'void', why: 'never made' })]));
    const issued = await issueNumbers(workshop, {
      edition: 'nine-lights',
      series: 'main',
      count: 2,
      by: 'A. Moss',
    });
    expect(issued.map(({ label }) => label)).toEqual(['02/90', '04/90']);
  });

  test('what the register has otherwise clashes', async () => {
    const workshop = await newWorkshopCopy();
    await issueNumbers(workshop, { edition: 'nine-lights', series: 'main', count: 2, by: 'A. Moss' });
    const dry = await told(workshop, listOf([row(1), row(2, { state: 'delivered' }), row(3)]), true);
    expect(dry).toMatchObject({ numbers: 1, already: 1 });
    expect(codesOf(dry)).toEqual([[3, 'import.already-registered']]);
  });

  test('brought in, then gone on, and brought in again, says that nothing is new', async () => {
    const workshop = await newWorkshopCopy();
    const file = listOf([row(1, { state: 'engraved' })]);
    await told(workshop, file);
    await recordEvent(workshop, {
      edition: 'nine-lights',
      label: '01/90',
      event: 'inspected',
      by: 'A. Moss',
    });
    expect(await told(workshop, file)).toMatchObject({ ok: true, numbers: 0, already: 1 });
  });

  test('rows of parts come together; whole and part do not', async () => {
    const workshop = await newWorkshopCopy();
    const good = listOf([row(1, { state: 'scrapped', part: 'cap' })]);
    await told(workshop, good);
    expect((await statesOf(workshop, 'nine-lights'))[0]).toMatchObject({
      state: 'scrapped',
      parts: [{ part: 'cap', state: 'scrapped' }],
    });
    expect(await told(workshop, good)).toMatchObject({ numbers: 0, already: 1 });
    const dry = await told(workshop, listOf([row(2, { state: 'engraved', part: 'cap' }), row(2)]), true);
    expect(codesOf(dry)).toEqual([[3, 'import.number-twice']]);
    expect(dry.wrong[0]!.problems[0]!.values).toEqual({ number: 2, series: 'main', row: 2 });
    const odd = await told(workshop, listOf([row(2, { state: 'delivered', part: 'cap' })]), true);
    expect(codesOf(odd)).toEqual([[2, 'import.state-of-whole']]);
  });

  test('Roman slips are named', async () => {
    const workshop = await newWorkshopCopy();
    const dry = await told(
      workshop,
      listOf([{ series: 'proofs', number: '4', label: 'A.P. IIII/IX', state: 'issued' }]),
      true,
    );
    expect(linesOf(dry.wrong[0]!)).toContain('Near it: A.P. IV/IX (IV is written IIII).');
  });

  test('into a closed edition nothing new comes', async () => {
    const workshop = await newWorkshopCopy();
    await issueNumbers(workshop, { edition: 'nine-lights', series: 'main', count: 1, by: 'A. Moss' });
    await onRegister(workshop, (r) =>
      r.closeEdition({ edition: 'nine-lights', statement: '0'.repeat(64), stated: STATED, by: 'A. Moss' }),
    );
    const dry = await told(workshop, listOf([row(1), row(2)]), true);
    expect(codesOf(dry)).toEqual([[3, 'import.edition-closed']]);
  });

  test('a list that cannot be read is refused', async () => {
    const workshop = await newWorkshopCopy();
    expect((await refusalOf(told(workshop, 'nowhere.csv'))).exit).toBe(2);
    const heading = await refusalOf(told(workshop, listOf([], 'label,state')));
    expect(heading.problems[0]).toMatchObject({
      ...{ code: 'csv.column-missing', values: { names: ['series', 'number'] } },
    });
    expect((await refusalOf(told(workshop, listOf([])))).problems[0]!.code).toBe('import.no-rows');
  });

  test('a piece that was lost, stolen or came back before the import has that in its life', async () => {
    const workshop = await newWorkshopCopy();
    const buyer = { to: 'R. Vane' };
    const rows = [
      row(1, { state: 'lost', ...buyer }),
      row(2, { state: 'stolen' }),
      row(3, { state: 'returned', ...buyer }),
    ];
    for (const numbers of [3, 0])
      expect(await told(workshop, listOf(rows))).toMatchObject({ ok: true, numbers });
    expect((await statesOf(workshop, 'nine-lights')).map(({ state }) => state)).toEqual([
      'lost',
      'stolen',
      'engraved',
    ]);
    const wrong = await told(workshop, listOf([row(4, { state: 'withheld', ...buyer })]), true);
    expect(wrong.wrong[0]!.problems.map(({ code }) => code)).toEqual(['import.to-not-wanted']);
  });
});
