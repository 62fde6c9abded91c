import { createHash } from 'node:crypto';
import {
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { dirname, join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { auditRegister } from '../../src/app/audit.js';
import { checkClosing, closeEdition } from '../../src/app/close.js';
import { issueNumbers } from '../../src/app/issue.js';
import { registerOf } from '../../src/app/kept-register.js';
import { newKey } from '../../src/app/key.js';
import type { Refusal } from '../../src/problem.js';
import { STATED } from '../register/ask.js';
import { linesOf } from '../words-of.js';
import {
  cleanAfterEach,
  newFolder,
  newWorkshopCopy,
  onRegister,
  recordEvent,
  refusalOf,
  sizeOf,
} from './workshop.js';

cleanAfterEach();

const SMALL = `  - id: main
    title: Numbered edition
    to: 8
    exclude: [{ numbers: [4], why: thought unlucky }]
  - id: proofs
    title: Artist's proofs
    to: 4
    figures: roman
    before: 'A.P. '
`;

async function made() {
  const workshop = await newWorkshopCopy({ small: SMALL });
  const edition = 'small';
  await issueNumbers(workshop, { edition, series: 'main', count: 4, by: 'A. Moss' });
  await issueNumbers(workshop, { edition, series: 'proofs', count: 1, by: 'A. Moss' });
  const of = (label: string) => ({ edition, label, by: 'A. Moss' });
  for (const event of ['engraved', 'inspected', 'delivered'])
    await recordEvent(workshop, { ...of('1'), event });
  await recordEvent(workshop, { ...of('2'), event: 'engraved' });
  await recordEvent(workshop, { ...of('2'), event: 'scrapped', why: 'the cutter slipped' });
  await recordEvent(workshop, { ...of('2'), event: 'destroyed', witness: 'J. Lind' });
  await recordEvent(workshop, { ...of('2'), event: 'recut' });
  await recordEvent(workshop, { ...of('3'), event: 'void', why: 'flaw in the resin' });
  await recordEvent(workshop, { ...of('5'), event: 'withheld', why: 'for the museum' });
  return workshop;
}

describe('a closing', () => {
  test('writes the statement, enters its hash, and ends the issuing', async () => {
    const workshop = await made();
    await newKey({ workshop: workshop.dir, environment: workshop.environment });
    const done = await closeEdition(workshop, { edition: 'small', by: 'E. Marrow', leaveOpen: true });
    const [main, proofs] = done.statement.series;
    expect(main).toMatchObject({
      ...{ planned: 7, issued: 4, delivered: 1, withheld: 1, void: 1, destroyed: 0, recut: 1 },
      ...{
        excluded: [{ numbers: '4', why: 'thought unlucky' }],
        voids: [{ label: '3', why: 'flaw in the resin' }],
      },
      never: '6-8',
    });
    expect(proofs).toMatchObject({ planned: 4, issued: 1, never: '2-4' });
    expect(done.statement.remarks[0]).toMatch(/4 proofs to 7 numbered pieces/);
    expect(done.statement.document).toBe(workshop.digests.get('edition/small'));

    // What `sha256sum` would say of the file is what the register says.
    const sha256 = createHash('sha256').update(readFileSync(done.json)).digest('hex');
    expect(sha256).toBe(done.sha256);
    expect(JSON.parse(readFileSync(done.json, 'utf8'))).toEqual(JSON.parse(JSON.stringify(done.statement)));
    const text = readFileSync(done.text, 'utf8');
    for (const part of [sha256, 'Numbered edition', 'Void: 3: flaw in the resin', done.statement.log.root])
      expect(text).toContain(part);
    expect(done.statement.checkpoint).toContain(done.statement.log.root);

    await onRegister(workshop, async (register) => {
      expect(await register.isClosed('small')).toBe(true);
      const bodies = [];
      for await (const { body } of register.events(done.statement.log.size)) bodies.push(JSON.parse(body));
      expect(bodies).toEqual([
        expect.objectContaining({ type: 'closed', edition: 'small', statement: sha256, by: 'E. Marrow' }),
      ]);
      // The closing itself is signed too.
      expect((await register.checkpoints()).at(-1)!.size).toBe(done.statement.log.size + 1);
    });
    const late = await refusalOf(
      issueNumbers(workshop, { edition: 'small', series: 'main', count: 1, by: 'A. Moss' }),
    );
    expect(late.exit).toBe(3);
    expect((await auditRegister(registerOf(workshop), { edition: 'small' })).report.ok).toBe(true);

    const again = await refusalOf(
      closeEdition(workshop, {
        edition: 'small',
        by: 'E. Marrow',
        out: join(newFolder(), 'x'),
        leaveOpen: true,
      }),
    );
    expect([again.exit, again.problems[0]!.code]).toEqual([3, 'close.closed-before']);
  });

  test('names what is still open, and is refused until that is acknowledged', async () => {
    const workshop = await made();
    const order = { edition: 'small', by: 'E. Marrow' };
    const check = await checkClosing(workshop, order);
    expect(check).toMatchObject({ ok: false, edition: 'small' });
    expect(check.open.map(({ values }) => values)).toEqual([
      { state: 'issued', labels: 'A.P. I', n: 1 },
      { state: 'recut', labels: '2', n: 1 },
      { state: 'withheld', labels: '5', n: 1 },
      { state: 'planned', labels: '6, 7, 8, A.P. II, A.P. III and A.P. IV', n: 6 },
    ]);
    const refused = await refusalOf(closeEdition(workshop, order));
    expect([refused.exit, refused.problems]).toEqual([3, check.open]);
    expect(existsSync(join(workshop.dir, 'out'))).toBe(false);
    expect(await checkClosing(workshop, { ...order, leaveOpen: true })).toMatchObject({ ok: true });
    await onRegister(workshop, async (register) => expect(await register.isClosed('small')).toBe(false));
  });

  test('without a key says so, and stands', async () => {
    const workshop = await made();
    const base = join(newFolder(), 'statement');
    const done = await closeEdition(workshop, {
      edition: 'small',
      by: 'E. Marrow',
      out: `${base}.txt`,
      leaveOpen: true,
    });
    expect([done.text, done.json]).toEqual([`${base}.txt`, `${base}.json`]);
    expect(done.remarks.map(({ code }) => code)).toEqual(['close.unsigned']);
    expect(done.statement.checkpoint).toBeUndefined();
    expect(readFileSync(done.text, 'utf8')).toContain('There was no key to sign it.');
    const { report } = await auditRegister(registerOf(workshop), { edition: 'small' });
    expect(report.findings.filter(({ grade }) => grade === 'fault')).toEqual([]);
  });

  test('of nothing is refused, and writes over nothing', async () => {
    const workshop = await newWorkshopCopy({ small: SMALL });
    expect(
      linesOf(
        await refusalOf(closeEdition(workshop, { edition: 'small', by: 'E. Marrow', leaveOpen: true })),
      ),
    ).toMatch(/No number of the edition is issued/);
    const full = await made();
    const size = await sizeOf(full);
    const out = join(newFolder(), 'statement');
    writeFileSync(`${out}.json`, 'mine');
    symlinkSync(join(newFolder(), 'nowhere'), `${out}-linked.txt`);
    const linked = closeEdition(full, {
      ...{ edition: 'small', by: 'E. Marrow', out: `${out}-linked`, leaveOpen: true },
    });
    expect((await refusalOf(linked)).problems[0]!.code).toBe('close.file-exists');
    const refused = await refusalOf(
      closeEdition(full, { edition: 'small', by: 'E. Marrow', out, leaveOpen: true }),
    );
    expect([refused.exit, refused.problems[0]!.code]).toEqual([2, 'close.file-exists']);
    expect([readFileSync(`${out}.json`, 'utf8'), existsSync(`${out}.txt`)]).toEqual(['mine', false]);
    expect(await sizeOf(full)).toBe(size);
  });

  test('cut short after the register recorded it is finished by asking again, by whoever asks', async () => {
    const workshop = await made();
    const order = { edition: 'small', by: 'E. Marrow', leaveOpen: true };
    // Of a closing that was cut short before the register recorded it.
    const early = join(
      workshop.dir,
      'out',
      'small',
      `statement-of-edition.json.${'0'.repeat(16)}.unfinished`,
    );
    mkdirSync(dirname(early), { recursive: true });
    writeFileSync(early, '{}');
    const done = await closeEdition(workshop, order);
    expect(readdirSync(dirname(done.json)).sort()).toEqual([
      ...['statement-of-edition.json', 'statement-of-edition.txt'],
    ]);
    const [json, text] = [done.json, done.text].map((file) => readFileSync(file, 'utf8'));
    const size = await sizeOf(workshop);

    // Killed before the statement had its name.
    renameSync(done.json, `${done.json}.${done.sha256.slice(0, 16)}.unfinished`);
    rmSync(done.text);
    const finished = await closeEdition(workshop, { ...order, by: 'J. Lind' });
    expect(finished.remarks.map(({ code }) => code)).toEqual(['close.finished']);
    expect([done.json, done.text].map((file) => readFileSync(file, 'utf8'))).toEqual([json, text]);
    expect(readdirSync(dirname(done.json))).toHaveLength(2);

    // Killed between the two forms of it.
    rmSync(done.text);
    await closeEdition(workshop, order);
    expect(readFileSync(done.text, 'utf8')).toBe(text);
    expect(await sizeOf(workshop)).toBe(size);

    // A statement that the register does not have the hash of is nobody's to place.
    renameSync(done.json, `${done.json}.${done.sha256.slice(0, 16)}.unfinished`);
    writeFileSync(
      `${done.json}.${done.sha256.slice(0, 16)}.unfinished`,
      json!.replace('E. Marrow', 'J. Lind'),
    );
    const refused = await refusalOf(closeEdition(workshop, order));
    expect(refused.problems[0]!.code).toBe('close.closed-before');
    expect(existsSync(done.json)).toBe(false);
  });

  test('refused by the register leaves no statement', async () => {
    const workshop = await made();
    const out = join(newFolder(), 'statement');
    const refused = await refusalOf(
      closeEdition(workshop, { edition: 'small', by: ' ', out, leaveOpen: true }),
    );
    expect(refused.exit).toBe(2);
    expect(existsSync(`${out}.txt`) || existsSync(`${out}.json`)).toBe(false);
  });
});

test('a closing while others issue: the statement counts what the register has', async () => {
  const workshop = await newWorkshopCopy();
  const edition = 'nine-lights';
  const issue = () => issueNumbers(workshop, { edition, series: 'main', count: 1, by: 'A. Moss' });
  await issue();
  const refused: string[] = [];
  const others = async () => {
    for (let i = 0; i < 6; i++)
      await issue().catch((error: Refusal) => refused.push(...error.problems.map(({ code }) => code)));
  };
  const closing = closeEdition(workshop, { edition, by: 'E. Marrow', leaveOpen: true });
  const [done] = await Promise.all([closing, others(), others(), others()]);
  // Whoever came after the closing was told so, and got no number.
  expect(new Set(refused)).toEqual(new Set(refused.length > 0 ? ['register.closed-to-issue'] : []));
  await onRegister(workshop, async (register) => {
    const statuses = await register.statuses(edition);
    expect(done.statement.series[0]!.issued).toBe(statuses.length);
    expect(statuses.length + refused.length).toBe(19);
  });
});

test('a statement that others overtook is refused by the register, and leaves nothing', async () => {
  const workshop = await newWorkshopCopy();
  const edition = 'nine-lights';
  await issueNumbers(workshop, { edition, series: 'main', count: 2, by: 'A. Moss' });
  await onRegister(workshop, async (register) => {
    const asOf = (await register.size()) - 1;
    const closing = { edition, statement: 'ab'.repeat(32), stated: STATED, by: 'E. Marrow', asOf };
    const overtaken = await refusalOf(register.closeEdition(closing));
    expect([overtaken.exit, overtaken.problems[0]!.code]).toEqual([3, 'register.edition-moved-on']);
    expect(await register.isClosed(edition)).toBe(false);
    // Events of another edition do not matter.
    await register.closeEdition({ ...closing, asOf: asOf + 1 });
    expect(await register.isClosed(edition)).toBe(true);
  });
});
