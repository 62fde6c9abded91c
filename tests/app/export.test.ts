import { readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { auditRegister } from '../../src/app/audit.js';
import { exportEvents } from '../../src/app/export.js';
import { issueNumbers } from '../../src/app/issue.js';
import { registerOf } from '../../src/app/kept-register.js';
import { newKey } from '../../src/app/key.js';
import { restoreRegister } from '../../src/app/restore.js';
import type { Workshop } from '../../src/app/workshop.js';
import { readCsv } from '../../src/documents/csv/read-csv.js';
import { lineOf } from '../words-of.js';
import {
  cleanAfterEach,
  newFolder,
  newWorkshopCopy,
  onRegister,
  publicKeysOf,
  recordEvent,
  refusalOf,
  sizeOf,
  statesOf,
} from './workshop.js';

cleanAfterEach();

const SECOND = '  - { id: main, title: second, to: 20 }\n';

/** A bench with a life behind it, in two editions. */
async function lived(): Promise<Workshop> {
  const workshop = await newWorkshopCopy({ second: SECOND });
  await newKey({ workshop: workshop.dir, environment: workshop.environment });
  const edition = 'nine-lights';
  await issueNumbers(workshop, { edition, series: 'main', count: 3, by: 'A. Moss', key: 'job-1' });
  await issueNumbers(workshop, { edition: 'second', series: 'main', count: 2, by: '=cmd|x' });
  const of = (number: number) => ({ edition, label: `0${number}/90`, by: 'A. Moss' });
  await recordEvent(workshop, { ...of(1), event: 'engraved' });
  await recordEvent(workshop, { ...of(1), event: 'inspected' });
  await recordEvent(workshop, { ...of(1), event: 'delivered', to: '"Harbour", Museum \u202e' });
  await recordEvent(workshop, { ...of(2), event: 'engraved' });
  await recordEvent(workshop, { ...of(2), event: 'scrapped', part: 'cap', why: 'slip; of the cutter' });
  await recordEvent(workshop, { ...of(2), event: 'destroyed', part: 'cap', witness: 'J. Lind' });
  await recordEvent(workshop, { ...of(2), event: 'recut', part: 'cap' });
  return workshop;
}

const rowsOf = (workshop: Workshop) =>
  onRegister(workshop, async (register) => {
    const rows = [];
    for await (const { seq, body, leaf } of register.events())
      rows.push({ seq, body, leaf: leaf.toString('hex') });
    return rows;
  });

describe('JSON lines', () => {
  test('of the whole register lead back to the same register, checkpoints and all', async () => {
    const workshop = await lived();
    const file = join(newFolder(), 'all.jsonl');
    expect(await exportEvents(registerOf(workshop), { form: 'jsonl', out: file })).toBe(14);
    const other = await newWorkshopCopy({ second: SECOND });
    const keys = [await publicKeysOf(workshop)];
    expect(await restoreRegister(other, { files: [file], keys })).toMatchObject({
      events: 14,
      edition: undefined,
    });
    expect(await rowsOf(other)).toEqual(await rowsOf(workshop));
    expect(await statesOf(other, 'nine-lights')).toEqual(await statesOf(workshop, 'nine-lights'));
    expect(await statesOf(other, 'second')).toEqual(await statesOf(workshop, 'second'));
    const [before, after] = [
      await auditRegister(registerOf(workshop), {}),
      await auditRegister(registerOf(other), {}),
    ];
    expect(after.report.checkpoints.length).toBeGreaterThan(5);
    expect(after.report).toEqual(before.report);
    expect(after.report.ok).toBe(true);
    // Once more, nothing is missing; every number would be there twice.
    expect(await restoreRegister(other, { files: [file] })).toMatchObject({ complete: true, restored: 0 });
    expect(await rowsOf(other)).toEqual(await rowsOf(workshop));
  });

  test('of one edition lead to the same state of it', async () => {
    const workshop = await lived();
    const file = join(newFolder(), 'one.jsonl');
    expect(
      await exportEvents(registerOf(workshop), { edition: 'nine-lights', form: 'jsonl', out: file }),
    ).toBe(11);
    const other = await newWorkshopCopy();
    // The log is a new one, which nobody signed.
    const code = 'restore.unsigned';
    const refused = await refusalOf(
      restoreRegister(other, { files: [file], keys: [await publicKeysOf(workshop)] }),
    );
    expect(refused.problems).toMatchObject([{ code, exit: 3, where: file, values: { n: 11 } }]);
    const answer = { by: 'E. Marrow', why: 'a bench of its own' };
    expect(await restoreRegister(other, { files: [file], ...answer })).toMatchObject({
      remarks: [{ code }],
      // With the note on who answers.
      events: 12,
      checkpoints: 0,
      edition: 'nine-lights',
    });
    expect(await statesOf(other, 'nine-lights')).toEqual(await statesOf(workshop, 'nine-lights'));
  });

  test('that were altered, cut or put in another order are refused, and nothing is taken over', async () => {
    const workshop = await lived();
    const file = join(newFolder(), 'all.jsonl');
    await exportEvents(registerOf(workshop), { form: 'jsonl', out: file });
    const lines = readFileSync(file, 'utf8').trimEnd().split('\n');
    const first = lines.findIndex((line) => line.includes('"body"'));
    const swapped = [...lines];
    [swapped[first], swapped[first + 1]] = [swapped[first + 1]!, swapped[first]!];
    const other = await newWorkshopCopy();
    const keys = [await publicKeysOf(workshop)];
    const tried: readonly (readonly [lines: string[], exit: number, code: RegExp])[] = [
      [lines.slice(0, -1), 3, /restore.cut-short/],
      [lines.slice(0, -3), 3, /restore.cut-short/],
      [[...lines.slice(0, -2), lines.at(-1)!], 3, /restore.other-events/],
      [swapped, 3, /was expected here/],
      [lines.map((line) => line.replace('A. Moss', 'B. Moss')), 3, /does not match its hash/],
      [[...lines, lines.at(-2)!], 3, /restore.lines-after-end/],
      [[...lines.slice(0, -1), '{"x":1}', lines.at(-1)!], 3, /restore.line-unreadable .*line \d+/],
      [lines.slice(1), 2, /restore.not-an-export/],
      [[], 2, /restore.not-an-export/],
    ];
    for (const [text, exit, code] of tried) {
      const bad = join(newFolder(), 'bad.jsonl');
      writeFileSync(bad, text.map((line) => `${line}\n`).join(''));
      const refused = await refusalOf(restoreRegister(other, { files: [bad], keys }));
      const told = refused.problems.map((p) => `${p.where} ${p.code} ${lineOf(p)}`).join();
      expect([refused.exit, told]).toEqual([exit, expect.stringMatching(code)]);
      expect(await sizeOf(other)).toBe(0);
    }
    expect((await refusalOf(restoreRegister(other, { files: [newFolder()] }))).exit).toBe(2);
    expect((await refusalOf(restoreRegister(other, { files: ['nowhere'] }))).exit).toBe(2);
  });
});

describe('CSV', () => {
  test('has a line for each event, and no cell a spreadsheet would run', async () => {
    const workshop = await lived();
    const file = join(newFolder(), 'new', 'all.csv');
    await exportEvents(registerOf(workshop), { form: 'csv', out: file });
    const text = readFileSync(file, 'utf8');
    const names = text.split('\n')[0]!.split(',');
    const rows = readCsv(file, Buffer.from(text), { needed: [], known: names });
    expect(rows).toHaveLength(14);
    expect(rows[0]!.cells).toMatchObject({ seq: '0', event: 'opened', name: 'Nine Lights' });
    expect(JSON.parse(rows[0]!.cells.terms!).series[0]).toMatchObject({ id: 'main', from: 1, to: 90 });
    expect(rows[1]!.cells).toMatchObject({
      seq: '1',
      event: 'issued',
      label: '01/90',
      parts: 'cap',
      by: 'A. Moss',
      key: 'job-1',
    });
    expect(rows[5]!.cells.by).toBe("'=cmd|x");
    expect(rows[9]!.cells.to).toBe('"Harbour", Museum <U+202E>');
    for (const { cells } of rows)
      for (const cell of Object.values(cells)) expect(cell).not.toMatch(/^[=+\-@\t]/);
    expect(text).not.toContain('\u202e');
  });

  test('that cannot be written leaves nothing', async () => {
    const workshop = await lived();
    const folder = newFolder();
    expect((await refusalOf(exportEvents(registerOf(workshop), { form: 'csv', out: folder }))).exit).toBe(2);
    expect(statSync(folder).isDirectory()).toBe(true);
    expect(
      (
        await refusalOf(
          exportEvents(registerOf(workshop), { edition: 'none', form: 'csv', out: join(folder, 'x') }),
        )
      ).exit,
    ).toBe(2);
  });
});
