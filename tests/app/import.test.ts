import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { importPast } from '../../src/app/import.js';
import { issueNumbers } from '../../src/app/issue.js';
import type { Workshop } from '../../src/app/workshop.js';
import { linesOf } from '../words-of.js';
import {
  cleanAfterEach,
  newFolder,
  newWorkshopCopy,
  onRegister,
  recordEvent,
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
const PLANTED: readonly (readonly [change: Row, code: string])[] = [
  [{ series: 'mian' }, 'series-unknown'],
  [{ series: '' }, 'series-unknown'],
  [{ number: '12a' }, 'number-unreadable'],
  [{ number: '0', label: '0000/6000' }, 'number-unreadable'],
  [{ number: '-5' }, 'formula'],
  [{ number: '6001', label: '6001/6000' }, 'number-outside'],
  [{ number: '13', label: '0013/6000' }, 'number-excluded'],
  [{ number: '4444', label: '4444/6000' }, 'number-excluded'],
  [{ number: '20', label: '0020/6000' }, 'number-twice'],
  [{ number: '4000', label: '0021/6000' }, 'label-differs'],
  [{ label: 'X' }, 'label-differs'],
  [{ label: '22/6000', number: '22' }, 'label-mistyped'],
  [{ label: 'OO23/6000', number: '23' }, 'label-mistyped'],
  [{ label: '0042/600', number: '42' }, 'label-mistyped'],
  [{ label: '００24/6000', number: '24' }, 'label-mistyped'],
  [{ label: '0025/6000 ', number: '25' }, 'label-mistyped'],
  [{ label: '0026\u200b/6000', number: '26' }, 'label-mistyped'],
  [{ label: '0072/6000', number: '27' }, 'label-differs'],
  [{ state: 'mislaid' }, 'state-unknown'],
  [{ state: '' }, 'state-unknown'],
  [{ state: 'planned' }, 'state-unknown'],
  [{ on: '2031-02-29' }, 'date-not-in-calendar'],
  [{ on: '15.3.2020' }, 'date-unreadable'],
  [{ on: '2999-01-01' }, 'date-in-future'],
  [{ state: 'destroyed', witness: 'A. Moss', by: 'a. moss' }, 'witness-is-recorder'],
  [{ state: 'recut', witness: 'E. Marrow', by: 'A. Moss' }, 'witness-is-recorder'],
  [{ state: 'destroyed', witness: 'A. \u039coss', by: 'A. Moss' }, 'witness-like-recorder'],
  [{ state: 'destroyed', witness: '' }, 'witness-missing'],
  [{ state: 'issued', witness: 'J. Lind', to: '' }, 'witness-not-wanted'],
  [{ state: 'issued', to: 'J. Lind', witness: '' }, 'to-not-wanted'],
  [{ why: '=HYPERLINK("x")' }, 'formula'],
  [{ why: '@home' }, 'formula'],
  [{ by: 'A. M\u043ess' }, 'mixed-scripts'],
  [{ why: 'sold\u202eyadot' }, 'invisible'],
  [{ why: 'two\nlines' }, 'control-character'],
  [{ why: 'x'.repeat(190) }, 'too-long'],
  [{ state: 'engraved', part: 'nib', to: '', witness: '' }, 'part-unknown'],
];

test('of 5,000 rows with 37 wrong ones, exactly those are reported, by row, and nothing is written', async () => {
  expect(PLANTED).toHaveLength(37);
  const workshop = await newWorkshopCopy({ tides: TIDES });
  const rows: Row[] = [];
  for (let n = 1; rows.length < 5000; n++) {
    // Numbers that a planted row claims for itself stay free; 20 is the one that is claimed twice.
    if (![13, 22, 23, 24, 25, 26, 27, 42, 4000, 4444].includes(n)) rows.push(soundRow(n));
  }
  const planted = new Map<number, string>();
  PLANTED.forEach(([change, code], i) => {
    const at = 60 + i * 131;
    // Also one who is only issued, so that what is planted is all there is.
    const base: Row = { ...rows[at], state: 'issued', witness: '', to: '' };
    rows[at] = { ...base, ...change };
    planted.set(at + 2, `import.${code}`);
  });
  const file = listOf(rows);

  const dry = await told(workshop, file, true);
  expect(dry.wrong.map(({ row }) => row)).toEqual([...planted.keys()]);
  for (const { row, problems } of dry.wrong)
    expect(problems.map(({ code }) => code)).toContain(planted.get(row));
  expect([dry.ok, dry.rows, dry.numbers]).toEqual([false, 5000, 5000 - 37]);
  expect(await sizeOf(workshop)).toBe(0);

  const refused = await refusalOf(told(workshop, file));
  expect([refused.exit, new Set(refused.problems.map(({ where }) => where)).size]).toEqual([3, 37]);
  expect(refused.problems[0]!.where).toMatch(/past\.csv: row 62$/);
  expect(await sizeOf(workshop)).toBe(0);

  const sound = listOf(rows.filter((_, i) => !planted.has(i + 2)));
  const done = await told(workshop, sound);
  expect(done).toMatchObject({ ok: true, rows: 4963, numbers: 4963, already: 0, wrong: [] });
  // The terms of the edition come first.
  expect(await sizeOf(workshop)).toBe(done.events + 1);
  const states = await statesOf(workshop, 'tides');
  expect(states).toHaveLength(4963);
  for (const { label, state } of states) {
    const number = Number(label.slice(0, 4));
    expect([label, state]).toEqual([label, STATES[number % STATES.length]]);
  }

  const again = await told(workshop, sound);
  expect(again).toMatchObject({ ok: true, numbers: 0, events: 0, already: 4963 });
  expect(await sizeOf(workshop)).toBe(done.events + 1);
});

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
      r.closeEdition({ edition: 'nine-lights', statement: '0'.repeat(64), by: 'A. Moss' }),
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
