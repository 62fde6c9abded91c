import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect } from 'vitest';
import { importPast } from '../../src/app/import.js';
import type { Workshop } from '../../src/app/workshop.js';
import { newFolder, newWorkshopCopy, refusalOf, sizeOf, statesOf } from './workshop.js';

const HEADING = 'series,number,label,state,on,by,why,part,witness,to';

const TIDES = `  - id: main
    title: Numbered edition
    to: 6000
    pad: 4
    total: { joiner: / }
    exclude: [{ numbers: [13, 4444], why: thought unlucky }]
`;

export type Row = Partial<
  Record<'series' | 'number' | 'label' | 'state' | 'on' | 'by' | 'why' | 'part' | 'witness' | 'to', string>
>;
const lineOf = (row: Row): string =>
  HEADING.split(',')
    .map((name) => quoted(row[name as keyof Row] ?? ''))
    .join(',');
const quoted = (text: string): string => (/[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);

export function listOf(rows: readonly Row[], heading = HEADING): string {
  const file = join(newFolder(), 'past.csv');
  writeFileSync(file, `${heading}\r\n${rows.map((row) => `${lineOf(row)}\r\n`).join('')}`);
  return file;
}

export const told = (workshop: Workshop, file: string, dryRun = false) =>
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

/** Of so many rows with 37 wrong ones, exactly those are reported, by row, and nothing is written; the others come in. */
export async function importsManyRows(count: number): Promise<void> {
  expect(PLANTED).toHaveLength(37);
  const sound = count - 37;
  const workshop = await newWorkshopCopy({ tides: TIDES });
  const rows: Row[] = [];
  for (let n = 1; rows.length < count; n++) {
    // Numbers that a planted row claims for itself stay free; 20 is the one that is claimed twice.
    if (![13, 22, 23, 24, 25, 26, 27, 42, 4000, 4444].includes(n)) rows.push(soundRow(n));
  }
  const planted = new Map<number, string>();
  PLANTED.forEach(([change, code], i) => {
    const at = 60 + i * Math.floor((count - 60) / PLANTED.length);
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
  expect([dry.ok, dry.rows, dry.numbers]).toEqual([false, count, count - 37]);
  expect(await sizeOf(workshop)).toBe(0);

  const refused = await refusalOf(told(workshop, file));
  expect([refused.exit, new Set(refused.problems.map(({ where }) => where)).size]).toEqual([3, 37]);
  expect(refused.problems[0]!.where).toMatch(/past\.csv: row 62$/);
  expect(await sizeOf(workshop)).toBe(0);

  const list = listOf(rows.filter((_, i) => !planted.has(i + 2)));
  const done = await told(workshop, list);
  expect(done).toMatchObject({ ok: true, rows: sound, numbers: sound, already: 0, wrong: [] });
  // The terms of the edition come first.
  expect(await sizeOf(workshop)).toBe(done.events + 1);
  const states = await statesOf(workshop, 'tides');
  expect(states).toHaveLength(sound);
  for (const { label, state } of states) {
    const number = Number(label.slice(0, 4));
    expect([label, state]).toEqual([label, STATES[number % STATES.length]]);
  }

  const again = await told(workshop, list);
  expect(again).toMatchObject({ ok: true, numbers: 0, events: 0, already: sound });
  expect(await sizeOf(workshop)).toBe(done.events + 1);
}
