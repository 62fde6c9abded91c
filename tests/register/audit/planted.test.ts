import { describe, expect, test } from 'vitest';
import { leafHash, toLeaf } from '../../../src/register/event.js';
import { signCheckpoint } from '../../../src/register/log/note.js';
import { openRegister } from '../../../src/register/open.js';
import type { StoredCheckpoint } from '../../../src/register/register.js';
import { toOpeningEvent } from '../../../src/register/requests.js';
import { checkpointDigest } from '../../../src/register/resumption/resumptions.js';
import { termsOf } from '../../../src/register/terms/terms.js';
import { nineLights } from '../../edition/nine-lights.js';
import { STATED } from '../ask.js';
import { cleanAfterEach, newFile } from '../folder.js';
import { auditOf, changed, faultsOf, keptDay, remade, rewrite, SIGNER, shortCode, tamper } from './kept.js';

cleanAfterEach();

const bodiesOf = (rows: readonly { body: string }[]) => rows.map(({ body }) => body);

describe('an honest register', () => {
  test('has nothing wrong with it, and says what it holds', async () => {
    const { file, evening } = await keptDay();
    const report = await auditOf(file, { outside: [evening] });
    expect(report.findings).toEqual([]);
    expect(report.ok).toBe(true);
    expect([report.events, report.numbers]).toEqual([15, 6]);
    expect(report.checkpoints.map(({ size, agrees, signed }) => [size, agrees, signed])).toEqual([
      [7, true, true],
      [15, true, true],
    ]);
    expect(evening.note).toContain(report.root.toString('base64'));
    expect(report.gaps).toEqual([{ edition: 'nine-lights', series: 'main', numbers: '3', why: 'void' }]);
  });

  test('with no events yet is sound', async () => {
    expect(await faultsOf(newFile())).toEqual([]);
  });
});

describe('a planted fault is found and named:', () => {
  test('the text of an event altered', async () => {
    const { file, evening } = await keptDay();
    rewrite(file, (rows) =>
      rows.map((r) => (r.seq === 8 ? { ...r, body: changed(r.body, { to: 'J. Lind' }) } : r)),
    );
    // The hash is the old one, so every checkpoint still agrees: only the text is other.
    expect(await faultsOf(file, { outside: [evening] })).toEqual(['text-and-hash-differ 8']);
  });

  test('its hash altered', async () => {
    const { file, evening } = await keptDay();
    rewrite(file, (rows) => rows.map((r) => (r.seq === 2 ? { ...r, leaf: Buffer.alloc(32, 7) } : r)));
    const { findings } = await auditOf(file, { outside: [evening] });
    expect(findings.map(({ code, seq }) => [code, seq])).toContainEqual(['audit.text-and-hash-differ', 2]);
    expect(findings.filter(({ code }) => code === 'audit.hashes-altered')).toHaveLength(2);
  });

  test('text and hash altered together, which only a checkpoint shows', async () => {
    const { file, evening } = await keptDay();
    rewrite(file, (rows) =>
      remade(rows.map((r) => (r.seq === 8 ? changed(r.body, { to: 'J. Lind' }) : r.body))),
    );
    expect(await faultsOf(file)).toEqual([]);
    expect(await faultsOf(file, { outside: [evening] })).toEqual(['root-differs']);
    const { findings } = await auditOf(file, { outside: [evening] });
    expect(findings[0]!.values).toEqual({ size: 15, from: 7, to: 14 });
  });

  test('the last event deleted', async () => {
    const { file, evening } = await keptDay();
    rewrite(file, (rows) => rows.slice(0, -1));
    expect(await faultsOf(file)).toEqual([]);
    expect(await faultsOf(file, { outside: [evening] })).toEqual(['log-shorter']);
  });

  test('an event deleted from the middle', async () => {
    const { file, evening } = await keptDay();
    rewrite(file, (rows) => rows.filter(({ seq }) => seq !== 8));
    expect(await faultsOf(file)).toEqual(['gap-in-sequence 9']);
    expect(await faultsOf(file, { outside: [evening] })).toEqual(['gap-in-sequence 9', 'log-shorter']);
  });

  test('the same with the places counted anew', async () => {
    const { file, evening } = await keptDay();
    // Without its delivery the piece is only inspected: no rule is broken.
    rewrite(file, (rows) => remade(bodiesOf(rows).filter((_, i) => i !== 8)));
    expect(await faultsOf(file)).toEqual([]);
    expect(await faultsOf(file, { outside: [evening] })).toEqual(['log-shorter']);
  });

  test('two events in each other’s place', async () => {
    const { file, evening } = await keptDay();
    rewrite(file, (rows) => {
      const bodies = bodiesOf(rows);
      [bodies[7], bodies[8]] = [bodies[8]!, bodies[7]!];
      return remade(bodies);
    });
    // Delivered before it was inspected, and told later than what follows.
    expect(await faultsOf(file, { outside: [evening] })).toEqual([
      'rule-broken 7',
      'time-runs-back 8',
      'root-differs',
    ]);
  });

  test('an event dated back', async () => {
    const { file, evening } = await keptDay();
    rewrite(file, (rows) =>
      remade(rows.map((r) => (r.seq === 13 ? changed(r.body, { at: '2020-12-24T12:00:00.000Z' }) : r.body))),
    );
    expect(await faultsOf(file, { outside: [evening] })).toEqual(['time-runs-back 13', 'root-differs']);
  });

  test('an event put in by SQL', async () => {
    const { file, evening } = await keptDay();
    rewrite(file, (rows) => {
      const bodies = bodiesOf(rows);
      const inspected = bodies[7]!;
      bodies.splice(8, 0, changed(inspected, { type: 'withheld', why: 'never happened' }));
      return remade(bodies);
    });
    expect(await faultsOf(file, { outside: [evening] })).toEqual(['rule-broken 9', 'root-differs']);
  });

  test('an event appended by SQL, without hash', async () => {
    const { file } = await keptDay();
    tamper(file, (db) => {
      const last = db.prepare<[], string>('SELECT body FROM event WHERE seq = 14').pluck().get()!;
      const body = changed(last, { number: 90, label: '90/90', type: 'issued' });
      db.prepare('INSERT INTO event (seq, body, leaf) VALUES (15, ?, ?)').run(body, Buffer.alloc(32));
    });
    expect(await faultsOf(file)).toEqual(['text-and-hash-differ 15', 'number-missing']);
  });

  test('the witness made the one who recorded it', async () => {
    const { file } = await keptDay();
    for (const witness of ['A. Moss', 'a.  moss', 'Ａ. Moss']) {
      rewrite(file, (rows) =>
        remade(rows.map((r) => (r.seq === 11 ? changed(r.body, { witness }) : r.body))),
      );
      expect((await faultsOf(file))[0]).toBe('rule-broken 11');
    }
  });

  test('the same where an honest destruction went before', async () => {
    const { file } = await keptDay();
    rewrite(file, (rows) => {
      const bodies = bodiesOf(rows);
      const of = { at: '2021-03-01T22:00:00.000Z', number: 4, label: '4/90' };
      const life = [bodies[9]!, bodies[10]!, bodies[11]!].map((body) => changed(body, of));
      life[2] = changed(life[2]!, { witness: 'A. Moss' });
      return remade([...bodies, ...life]);
    });
    expect(await faultsOf(file)).toEqual(['rule-broken 17']);
  });

  test('a number cut twice', async () => {
    const { file } = await keptDay();
    rewrite(file, (rows) => {
      const bodies = bodiesOf(rows);
      const engraved = changed(bodies[6]!, { at: '2021-03-01T22:00:00.000Z', key: 'cut 2' });
      return remade([...bodies, engraved]);
    });
    const { findings } = await auditOf(file);
    // A finding for each part.
    expect(findings.map(({ code, seq }) => [code, seq])).toEqual([
      ['audit.rule-broken', 15],
      ['audit.rule-broken', 15],
    ]);
    expect(findings[0]!.values.place).toBe('label 1/90');
  });

  test('a number issued twice, under its label and under another', async () => {
    const { file } = await keptDay();
    rewrite(file, (rows) => {
      const bodies = bodiesOf(rows);
      const again = (members: object) =>
        changed(bodies[0]!, {
          at: '2021-03-01T22:00:00.000Z',
          key: `k${JSON.stringify(members)}`,
          ...members,
        });
      return remade([...bodies, again({}), again({ label: '1 bis' }), again({ number: 80 })]);
    });
    expect(await faultsOf(file)).toEqual(['rule-broken 15', 'number-relabelled 16', 'label-clash 17']);
  });

  test('a request carried out twice', async () => {
    const { file } = await keptDay();
    rewrite(file, (rows) => {
      const bodies = bodiesOf(rows);
      const next = (nth: number, number: number) =>
        changed(bodies[3]!, { at: '2021-03-01T22:00:00.000Z', nth, number, label: `${number}/90` });
      return remade([...bodies, next(1, 5), next(3, 6)]);
    });
    expect(await faultsOf(file)).toEqual(['request-twice 15', 'request-count 16']);
  });

  test('issued after the edition was closed', async () => {
    const { file } = await keptDay();
    const register = await openRegister({ kind: 'sqlite', file }, { now: () => new Date('2021-04-01') });
    await register.closeEdition({
      edition: 'nine-lights',
      statement: '0'.repeat(64),
      stated: STATED,
      by: 'A. Moss',
    });
    await register.close();
    // Nor does its statement say what was issued.
    expect(await faultsOf(file)).toEqual(['statement-differs 15']);
    rewrite(file, (rows) => {
      const bodies = bodiesOf(rows);
      const late = { at: '2021-05-01T22:00:00.000Z', number: 5, label: '5/90', key: 'late', nth: 1 };
      return remade([
        ...bodies,
        changed(bodies[0]!, late),
        changed(bodies[15]!, { at: '2021-05-01T22:00:00.000Z' }),
      ]);
    });
    expect(await faultsOf(file)).toEqual(['statement-differs 15', 'rule-broken 16', 'closed-twice 17']);
  });

  test('what is no event, in words', async () => {
    const { file } = await keptDay();
    rewrite(file, (rows) =>
      remade(
        rows.map(({ seq, body }) => {
          if (seq === 5) return changed(body, { colour: 'blue' });
          if (seq === 7) return body.replace('{', '{ ');
          if (seq === 8) return changed(body, { type: 'lost' });
          return body;
        }),
      ),
    );
    const { findings } = await auditOf(file);
    const wrong = findings.filter(({ code }) => code === 'audit.not-an-event');
    expect(wrong.map(({ seq }) => seq)).toEqual([5, 7, 8]);
    for (const { values } of wrong) expect(values.reason).not.toBe('');
  });
});

describe('an entry that the register goes past', () => {
  const AFTER = '2021-03-01T22:00:00.000Z';
  const opened = toLeaf(toOpeningEvent('nine-lights', termsOf(nineLights(), []), 'A. Moss', AFTER)).body;
  const whole = { series: undefined, number: undefined, label: undefined, key: undefined, nth: undefined };
  const closed = { ...whole, type: 'closed', statement: 'ab'.repeat(32) };
  /** An event after all others, of number 4 and of no request, but for these members. */
  const event = (issue: string, members: object) =>
    changed(issue, {
      ...{ at: AFTER, number: 4, label: '4/90', parts: undefined, key: undefined, nth: undefined },
      ...members,
    });
  const past = (issue: string, entry: number, bad: string, members: object = {}) =>
    event(issue, {
      ...{ ...whole, type: 'resumed', corrects: entry, digest: leafHash(bad).toString('hex') },
      ...{ fault: 'rule', by: 'E. Marrow', witness: 'J. Lind', ...members },
    });
  type Make = (issue: string) => string;
  const grow = (file: string, more: (issue: string) => string[]) =>
    rewrite(file, (rows) => {
      const bodies = bodiesOf(rows);
      return remade([...bodies, ...more(bodies[0]!)]);
    });

  // What comes before it, the entry, what is wrong with it, and by what word the register goes past it.
  const BAD: [what: string, before: Make[], bad: Make, reason: string, fault: string][] = [
    [
      'counted in a request that is not there',
      [],
      (e) => event(e, { type: 'noted', key: 'job', nth: 7 }),
      'request-count',
      'rule',
    ],
    [
      'that gives one label to two numbers',
      [],
      (e) => event(e, { type: 'withheld', number: 5 }),
      'label-clash',
      'rule',
    ],
    [
      'of a number beyond the terms',
      [() => opened],
      (e) => event(e, { number: 91, label: '91/90' }),
      'not-on-terms',
      'rule',
    ],
    ['that opens an edition again', [() => opened], () => opened, 'terms-twice', 'rule'],
    [
      'that amends what was never opened',
      [],
      () => changed(opened, { type: 'amended' }),
      'terms-missing',
      'rule',
    ],
    ['that opens a closed edition', [(e) => event(e, closed)], () => opened, 'closed-twice', 'rule'],
    ['that closes it twice', [(e) => event(e, closed)], (e) => event(e, closed), 'closed-twice', 'rule'],
    [
      'that takes back an earlier step',
      [],
      (e) => event(e, { type: 'retracted', number: 1, label: '1/90', corrects: 7, witness: 'J. Lind' }),
      'rule-broken',
      'rule',
    ],
    ['that goes past what is sound', [], (e) => past(e, 8, 'another text'), 'resumed-needlessly', 'rule'],
    ['in no words of an event', [], (e) => event(e, { colour: 'blue' }), 'not-an-event', 'text'],
  ];

  test.each(BAD)('%s is a remark; without that it is a fault', async (_, before, bad, reason, fault) => {
    const { file } = await keptDay();
    const entry = 15 + before.length;
    grow(file, (issue) => [...before.map((make) => make(issue)), bad(issue)]);
    expect(await faultsOf(file)).not.toEqual([]);
    grow(file, (issue) => [past(issue, entry, bad(issue), { fault })]);
    const { findings, ok } = await auditOf(file);
    expect(findings.filter(({ grade }) => grade === 'fault')).toEqual([]);
    expect(ok).toBe(true);
    expect(findings.filter(({ code }) => code === 'audit.passed-over')).toMatchObject([
      { grade: 'remark', seq: entry + 1, values: { entry, reason: { code: `audit.${reason}` } } },
    ]);
  });

  test('by the word of one person alone shows as that, and is gone past in its turn', async () => {
    const { file } = await keptDay();
    const bad = (issue: string) => event(issue, { type: 'recut' });
    const alone = (issue: string) => past(issue, 15, bad(issue), { witness: ' e.  marrow' });
    grow(file, (issue) => [bad(issue), alone(issue)]);
    expect(await faultsOf(file)).toEqual(['rule-broken 16']);
    const { findings } = await auditOf(file);
    expect(findings.find(({ grade }) => grade === 'fault')!.values).toMatchObject({
      rule: { code: 'register.own-witness' },
    });
    grow(file, (issue) => [past(issue, 16, alone(issue)), past(issue, 15, bad(issue))]);
    expect(await faultsOf(file)).toEqual([]);
  });

  test('of another edition than the one that is audited is not looked into', async () => {
    const { file } = await keptDay();
    const bad = (issue: string) => event(issue, { type: 'recut' });
    grow(file, (issue) => [bad(issue), past(issue, 15, bad(issue))]);
    const { findings } = await auditOf(file, { edition: 'other' });
    expect(findings).toMatchObject([
      { code: 'audit.passed-over', values: { reason: { code: 'audit.other-edition' } } },
    ]);
  });

  const other = { size: 9, root: Buffer.alloc(32, 7) };
  test.each<[string, Partial<StoredCheckpoint>, string[]]>([
    ['sound', {}, ['checkpoint-resumed-needlessly no']],
    [
      'of the key, for other events',
      { size: 9, note: signCheckpoint(other, SIGNER) },
      ['checkpoint-resumed-needlessly yes'],
    ],
    [
      'of the key, for more events than there are',
      { size: 99, note: signCheckpoint({ ...other, size: 99 }, SIGNER) },
      ['checkpoint-resumed-needlessly yes'],
    ],
    ['of other subtrees', { frontier: [other.root] }, []],
    ['of another size than it says', { size: 8 }, []],
    ['no note', { note: 'as ever' }, []],
  ])('is a checkpoint that is %s', async (_, members, faults) => {
    const { file } = await keptDay();
    const register = await openRegister({ kind: 'sqlite', file }, { now: () => new Date() });
    const [kept] = await register.checkpoints();
    await register.close();
    const checkpoint = { ...kept!, ...members };
    tamper(file, (db) => {
      db.exec('DELETE FROM checkpoint');
      const { size, note, frontier } = checkpoint;
      db.prepare('INSERT INTO checkpoint (size, note, frontier) VALUES (?, ?, ?)').run(
        size,
        note,
        Buffer.concat(frontier),
      );
    });
    const resumed = { corrects: undefined, digest: checkpointDigest(checkpoint), fault: 'checkpoint' };
    grow(file, (issue) => [past(issue, 15, '', resumed)]);
    const { findings, checkpoints } = await auditOf(file);
    expect(checkpoints).toEqual([]);
    const found = (wanted: string) => findings.filter(({ grade }) => grade === wanted);
    expect(found('fault').map(({ code, values }) => `${shortCode(code)} ${values.signed}`)).toEqual(faults);
    expect(found('remark').map(({ code }) => shortCode(code))).toEqual(['checkpoint-passed-over']);
  });
});
