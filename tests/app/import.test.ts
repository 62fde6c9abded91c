import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { csvLine } from '../../src/app/csv-line.js';
import { importPast } from '../../src/app/import.js';
import { issueNumbers } from '../../src/app/issue.js';
import { recordEvent } from '../../src/app/record.js';
import type { Workshop } from '../../src/app/workshop.js';
import {
  cleanAfterEach,
  newFolder,
  newWorkshopCopy,
  onRegister,
  refusalOf,
  sizeOf,
  statesOf,
} from './workshop.js';

cleanAfterEach();

const HEADING = 'series,number,label,state,on,by,why,part,witness,to';

const TIDES = `  - id: main
    title: Numbered edition
    to: 6000
    pad: 4
    total: { joiner: / }
    exclude: [{ numbers: [13, 4444], why: thought unlucky }]
`;

type Row = Partial<
  Record<'series' | 'number' | 'label' | 'state' | 'on' | 'by' | 'why' | 'part' | 'witness' | 'to', string>
>;
const lineOf = (row: Row): string =>
  HEADING.split(',')
    .map((name) => quoted(row[name as keyof Row] ?? ''))
    .join(',');
const quoted = (text: string): string => (/[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);

function listOf(rows: readonly Row[], heading = HEADING): string {
  const file = join(newFolder(), 'past.csv');
  writeFileSync(file, `${heading}\r\n${rows.map((row) => `${lineOf(row)}\r\n`).join('')}`);
  return file;
}

const told = (workshop: Workshop, file: string, dryRun = false) =>
  importPast(workshop, {
    edition: workshop.documents.editions.has('tides') ? 'tides' : 'nine-lights',
    file,
    by: 'E. Marrow',
    dryRun,
  });

const STATES = [
  'issued',
  'engraved',
  'inspected',
  'delivered',
  'withheld',
  'scrapped',
  'destroyed',
  'recut',
  'void',
];
const soundRow = (number: number): Row => {
  const state = STATES[number % STATES.length]!;
  return {
    ...{ series: 'main', number: String(number), label: `${String(number).padStart(4, '0')}/6000`, state },
    ...{ on: `20${String(10 + (number % 10))}-0${1 + (number % 9)}-15`, by: number % 2 ? 'A. Moss' : '' },
    ...(['destroyed', 'recut'].includes(state) && { witness: 'J. Lind' }),
    ...(state === 'delivered' && { to: 'the Harbour Museum' }),
  };
};

/** Each makes a sound row unsound, in one way. */
const PLANTED: readonly (readonly [change: Row, fault: RegExp])[] = [
  [{ series: 'mian' }, /no series "mian"/],
  [{ series: '' }, /no series ""/],
  [{ number: '12a' }, /"12a" is no number/],
  [{ number: '0', label: '0000/6000' }, /"0" is no number/],
  [{ number: '-5' }, /begins like a formula/],
  [{ number: '6001', label: '6001/6000' }, /series main runs from 1 to 6000/],
  [{ number: '13', label: '0013/6000' }, /number 13 is excluded: thought unlucky/],
  [{ number: '4444', label: '4444/6000' }, /number 4444 is excluded: thought unlucky/],
  [{ number: '20', label: '0020/6000' }, /number 20 of main is in row \d+ too/],
  [{ number: '4000', label: '0021/6000' }, /labels it 4000\/6000, not "0021\/6000"/],
  [{ label: 'X' }, /labels it \d+\/6000, not "X"/],
  [{ label: '22/6000', number: '22' }, /near is 0022\/6000 \(figures filled with 0\)/],
  [{ label: 'OO23/6000', number: '23' }, /near is 0023\/6000 \(O and 0\)/],
  [{ label: '0042/600', number: '42' }, /near is 0042\/6000 \(the total is 6000, not 600\)/],
  [{ label: '００24/6000', number: '24' }, /full-width/],
  [{ label: '0025/6000 ', number: '25' }, /near is 0025\/6000 \(blanks\)/],
  [{ label: '0026\u200b/6000', number: '26' }, /not "0026<U\+200B>\/6000".*an invisible character/],
  [{ label: '0072/6000', number: '27' }, /labels it 0027\/6000, not "0072\/6000"/],
  [{ state: 'lost' }, /"lost" is no state/],
  [{ state: '' }, /"" is no state/],
  [{ state: 'planned' }, /"planned" is no state/],
  [{ on: '2031-02-29' }, /the calendar has no 2031-02-29/],
  [{ on: '15.3.2020' }, /"15\.3\.2020" is no date/],
  [{ on: '2999-01-01' }, /2999-01-01 has not come yet/],
  [{ state: 'destroyed', witness: 'A. Moss', by: 'a. moss' }, /the witness is the one who recorded it/],
  [{ state: 'recut', witness: 'E. Marrow', by: 'A. Moss' }, /the witness is the one who recorded it/],
  [{ state: 'destroyed', witness: 'A. \u039coss', by: 'A. Moss' }, /reads like "A\. Moss", who recorded it/],
  [{ state: 'destroyed', witness: '' }, /needs a witness/],
  [{ state: 'issued', witness: 'J. Lind', to: '' }, /no destruction to witness/],
  [{ state: 'issued', to: 'J. Lind', witness: '' }, /goes to nobody/],
  [{ why: '=HYPERLINK("x")' }, /its why begins like a formula/],
  [{ why: '@home' }, /its why begins like a formula/],
  [{ by: 'A. M\u043ess' }, /its by mixes Latin and Cyrillic letters/],
  [{ why: 'sold\u202eyadot' }, /its why holds what nobody sees \(U\+202E\)/],
  [{ why: 'two\nlines' }, /its why holds a line end/],
  [{ why: 'x'.repeat(190) }, /its why is too long/],
  [{ state: 'engraved', part: 'nib', to: '', witness: '' }, /no part nib bears the number \(cap\)/],
];

test('of 5,000 rows with 37 clashes, exactly those are told, by row, and nothing is written', async () => {
  expect(PLANTED).toHaveLength(37);
  const workshop = await newWorkshopCopy({ tides: TIDES });
  const rows: Row[] = [];
  for (let n = 1; rows.length < 5000; n++) {
    // Numbers that a planted row claims for itself stay free; 20 is the one that is claimed twice.
    if (![13, 22, 23, 24, 25, 26, 27, 42, 4000, 4444].includes(n)) rows.push(soundRow(n));
  }
  const planted = new Map<number, RegExp>();
  PLANTED.forEach(([change, fault], i) => {
    const at = 60 + i * 131;
    // Also one who is only issued, so that what is planted is all there is.
    const base: Row = { ...rows[at], state: 'issued', witness: '', to: '' };
    rows[at] = { ...base, ...change };
    planted.set(at + 2, fault);
  });
  const file = listOf(rows);

  const dry = await told(workshop, file, true);
  expect(dry.clashes.map(({ row }) => row)).toEqual([...planted.keys()]);
  for (const { row, faults } of dry.clashes) expect(faults.join('; ')).toMatch(planted.get(row)!);
  expect([dry.ok, dry.rows, dry.numbers]).toEqual([false, 5000, 5000 - 37]);
  expect(await sizeOf(workshop)).toBe(0);

  const refused = await refusalOf(told(workshop, file));
  expect([refused.exit, refused.problems.length]).toEqual([3, 37]);
  expect(refused.problems[0]!.where).toMatch(/past\.csv: row 62$/);
  expect(await sizeOf(workshop)).toBe(0);

  const sound = listOf(rows.filter((_, i) => !planted.has(i + 2)));
  const done = await told(workshop, sound);
  expect(done).toMatchObject({ ok: true, rows: 4963, numbers: 4963, already: 0, clashes: [] });
  expect(await sizeOf(workshop)).toBe(done.events);
  const states = await statesOf(workshop, 'tides');
  expect(states).toHaveLength(4963);
  for (const { label, state } of states) {
    const number = Number(label.slice(0, 4));
    expect([label, state]).toEqual([label, STATES[number % STATES.length]]);
  }

  const again = await told(workshop, sound);
  expect(again).toMatchObject({ ok: true, numbers: 0, events: 0, already: 4963 });
  expect(await sizeOf(workshop)).toBe(done.events);
});

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
    expect(dry.clashes).toEqual([{ row: 3, faults: ['it is in the register already, issued'] }]);
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
    expect(dry.clashes).toEqual([{ row: 3, faults: ['number 2 of main is in row 2 too'] }]);
    const odd = await told(workshop, listOf([row(2, { state: 'delivered', part: 'cap' })]), true);
    expect(odd.clashes[0]!.faults).toEqual(['delivered is said of the whole piece, not of a part']);
  });

  test('Roman slips are named', async () => {
    const workshop = await newWorkshopCopy();
    const dry = await told(
      workshop,
      listOf([{ series: 'proofs', number: '4', label: 'A.P. IIII/IX', state: 'issued' }]),
      true,
    );
    expect(dry.clashes[0]!.faults[0]).toMatch(/near is A\.P\. IV\/IX \(IV is written IIII\)/);
  });

  test('into a closed edition nothing new comes', async () => {
    const workshop = await newWorkshopCopy();
    await issueNumbers(workshop, { edition: 'nine-lights', series: 'main', count: 1, by: 'A. Moss' });
    await onRegister(workshop, (r) =>
      r.closeEdition({ edition: 'nine-lights', statement: '0'.repeat(64), by: 'A. Moss' }),
    );
    const dry = await told(workshop, listOf([row(1), row(2)]), true);
    expect(dry.clashes).toEqual([{ row: 3, faults: ['the edition is closed'] }]);
  });

  test('a list that cannot be read is refused', async () => {
    const workshop = await newWorkshopCopy();
    expect((await refusalOf(told(workshop, 'nowhere.csv'))).exit).toBe(2);
    expect((await refusalOf(told(workshop, listOf([], 'label,state')))).message).toMatch(
      /no column series, number/,
    );
    expect((await refusalOf(told(workshop, listOf([])))).message).toMatch(/no rows/);
  });

  test('names that would be formulas, or pretend, are inert when shown', () => {
    const names = ['=cmd|x', '"A", B', 'two\nlines', '\u202eMoss', 'A. \u039coss'];
    const line = csvLine(names);
    expect(line).toBe('"\'=cmd|x","""A"", B","two\nlines",<U+202E>Moss,A. \u039coss');
    expect(readFileSync(listOf([row(1)]), 'utf8')).toMatch(/^series/);
  });
});
