import { describe, expect } from 'vitest';
import type { PastEvent, RecordRequest, Register } from '../../src/register/register.js';
import { linesOf } from '../words-of.js';
import { ask, codesOf, labels, PLAN, refusal, STATED } from './ask.js';
import { asking, BY, EDITION, live, type Step } from './life-rules.js';
import type { Test } from './of-each-table.js';

const STATEMENT = '5e'.repeat(32);

/** What any store must do with entries before the issue, after the closing, asked again, and from elsewhere. */
export function entryRules(fresh: () => Promise<Register>, test: Test): void {
  describe('a number not issued yet', () => {
    test('is passed over while withheld, and for good once void', async () => {
      const register = await fresh();
      for (const n of [0, 1, 3]) await register.record(asking('withheld', PLAN[n]!));
      await register.record(asking('void', PLAN[1]!));
      expect(labels(await register.issue({ ...ask, count: 2 }))).toEqual(['3/90', '5/90']);
      expect((await register.record(asking('released'))).state).toBe('planned');
      expect(labels(await register.issue({ ...ask, count: 2 }))).toEqual(['1/90', '6/90']);
      expect((await register.statuses(EDITION)).map(({ label, state }) => `${label} ${state}`)).toEqual([
        ...['1/90 issued', '2/90 void', '4/90 withheld', '3/90 issued', '5/90 issued', '6/90 issued'],
      ]);
    });

    test('is seen withheld by a program that issued before', async () => {
      const register = await live(await fresh(), []);
      await register.record(asking('withheld', PLAN[1]!));
      expect(labels(await register.issue(ask))).toEqual(['3/90']);
      await register.record(asking('released', PLAN[1]!));
      expect(labels(await register.issue(ask))).toEqual(['2/90']);
    });

    test.each<Step>(['engraved', 'inspected', 'delivered', 'scrapped', 'destroyed', 'recut'])(
      'cannot be %s',
      async (step) => {
        const register = await fresh();
        const refused = await refusal(register.record(asking(step)));
        expect(refused.exit).toBe(3);
        expect(codesOf(refused)).toEqual(['register.not-issued']);
        expect(await register.size()).toBe(0);
      },
    );

    test('belongs to one label from the first word about it', async () => {
      const register = await fresh();
      await register.record(asking('withheld'));
      const other = { ...asking('withheld'), label: '1 of 90' };
      expect((await refusal(register.record(other))).problems[0]).toMatchObject({
        code: 'register.number-mismatch',
        values: { knownLabel: '1/90', knownNumber: 1, knownSeries: 'main' },
      });
      const elsewhere = { ...asking('void'), number: 7 };
      expect(codesOf(await refusal(register.record(elsewhere)))).toEqual(['register.number-mismatch']);
      const issue = { ...ask, planned: [{ series: 'main', number: 7, label: '1/90' }] };
      expect((await refusal(register.issue(issue))).exit).toBe(3);
    });
  });

  describe('a closed edition', () => {
    const closing = { edition: EDITION, statement: STATEMENT, stated: STATED, by: BY };

    test('issues nothing more, and only issued numbers live on', async () => {
      const register = await live(await fresh(), []);
      await register.record(asking('withheld', PLAN[1]!));
      expect(await register.isClosed(EDITION)).toBe(false);
      await register.closeEdition(closing);
      expect(await register.isClosed(EDITION)).toBe(true);
      expect(await register.isClosed('other')).toBe(false);
      expect(codesOf(await refusal(register.issue(ask)))).toEqual(['register.closed-to-issue']);
      for (const step of ['withheld', 'void'] as const) {
        expect(codesOf(await refusal(register.record(asking(step, PLAN[2]!))))).toEqual([
          'register.edition-closed',
        ]);
      }
      expect(codesOf(await refusal(register.record(asking('released', PLAN[1]!))))).toEqual([
        'register.edition-closed',
      ]);
      expect((await register.record(asking('engraved'))).state).toBe('engraved');
      expect(labels(await register.issue({ ...ask, edition: 'other' }))).toEqual(['1/90']);
      expect(labels(await register.statuses(EDITION))).toEqual(['1/90', '2/90']);
    });

    test('is closed once; asking again with the same key is safe', async () => {
      const register = await live(await fresh(), []);
      await register.closeEdition({ ...closing, key: 'close' });
      await register.closeEdition({ ...closing, key: 'close' });
      expect(await register.size()).toBe(2);
      expect(codesOf(await refusal(register.closeEdition(closing)))).toEqual(['register.closed-before']);
      const changed = { ...closing, key: 'close', statement: '00'.repeat(32) };
      expect(codesOf(await refusal(register.closeEdition(changed)))).toEqual(['register.key-reused']);
      expect((await refusal(register.closeEdition({ ...closing, statement: 'no' }))).exit).toBe(2);
    });
  });

  describe('a record asked again', () => {
    const keyed: RecordRequest = { ...asking('engraved'), key: 'bench-3 41' };

    test('with the same key is entered once, and answered as it was', async () => {
      const register = await live(await fresh(), []);
      const first = await register.record(keyed);
      await register.record(asking('scrapped'));
      expect(await register.record(keyed)).toEqual(first);
      expect(await register.size()).toBe(3);
    });

    test.each([
      ['event', { event: 'scrapped' }],
      ['person', { by: 'B. Fern' }],
      ['reason', { why: 'other' }],
      ['number', { ...PLAN[1]! }],
      ['day', { on: '2021-02-27' }],
    ] as const)('for another %s is refused', async (_what, change) => {
      const register = await live(await fresh(), []);
      await register.issue(ask);
      await register.record(keyed);
      const refused = await refusal(register.record({ ...keyed, ...change }));
      expect(refused.exit).toBe(3);
      expect(refused.problems[0]).toMatchObject({
        code: 'register.key-reused',
        values: { key: 'bench-3 41' },
      });
    });

    test('with the key of an issue is refused', async () => {
      const register = await fresh();
      await register.issue({ ...ask, key: 'job-7' });
      expect((await refusal(register.record({ ...keyed, key: 'job-7' }))).exit).toBe(3);
      await register.record({ ...keyed, key: 'k' });
      expect((await refusal(register.issue({ ...ask, key: 'k' }))).exit).toBe(3);
    });
  });

  test.each([
    ['by', { by: ' ' }],
    ['label', { label: '' }],
    ['number', { number: 0 }],
    ['edition', { edition: '../x' }],
    ['part', { part: 'Cap!' }],
    ['the day', { on: 'yesterday' }],
    ['witness', { witness: 'B. Fern' }],
    ['to', { to: 'somebody' }],
  ])('a record with a wrong %s is refused', async (word, change) => {
    const register = await live(await fresh(), []);
    const refused = await refusal(register.record({ ...asking('engraved'), ...change }));
    expect(refused.exit).toBe(2);
    expect(linesOf(refused)).toContain(word);
    expect(await register.size()).toBe(1);
  });

  describe('events of an older register', () => {
    const past = (event: PastEvent['event'], n = 0): PastEvent => ({
      ...PLAN[n]!,
      edition: EDITION,
      event,
      by: BY,
      on: '1998-05-04',
    });

    test('are brought in together', async () => {
      const register = await fresh();
      await register.importEvents([past('issued'), past('issued', 1), past('engraved'), past('void', 4)]);
      expect((await register.statuses(EDITION)).map(({ state, since }) => [state, since])).toEqual([
        ['engraved', '1998-05-04'],
        ['issued', '1998-05-04'],
        ['void', '1998-05-04'],
      ]);
      expect(labels(await register.issue({ ...ask, count: 3 }))).toEqual(['3/90', '4/90', '6/90']);
      await register.importEvents([past('inspected')]);
      expect(await register.stateOf(EDITION, '1/90')).toBe('inspected');
    });

    test.each<[string, PastEvent[], string]>([
      ['of a wrong order', [past('issued'), past('inspected')], 'register.piece-not-engraved'],
      ['twice', [past('issued'), past('issued')], 'register.issued-before'],
      ['of a clash', [past('issued'), { ...past('issued', 1), label: '1/90' }], 'register.number-mismatch'],
      ['of another clash', [past('issued'), { ...past('issued', 1), number: 1 }], 'register.number-mismatch'],
    ])('are refused as a whole because of one %s', async (_what, events, code) => {
      const register = await fresh();
      const refused = await refusal(register.importEvents(events));
      expect(refused.exit).toBe(3);
      expect(refused.problems).toMatchObject([
        {
          code: 'register.import-refused',
          where: 'event 2',
          values: { row: 2, place: expect.stringMatching(/^label/), fault: { code } },
        },
      ]);
      expect(await register.size()).toBe(0);
    });
  });
}
