import fc from 'fast-check';
import { describe, test as everyCase, expect } from 'vitest';
import { type Numbered, plannedNumbers } from '../../src/edition/labels.js';
import type { Register } from '../../src/register/register.js';
import { editionOf } from '../edition/nine-lights.js';
import { linesOf } from '../words-of.js';
import { ask, codesOf, labels, NOON, PLAN, refusal } from './ask.js';
import { entryRules } from './entry-rules.js';
import { keepingRules } from './keeping-rules.js';
import { lifeRules } from './life-rules.js';
import { manyRules } from './many-rules.js';
import { occurrenceRules } from './occurrence-rules.js';
import type { Test } from './of-each-table.js';
import { termsRules } from './terms-rules.js';

export { ask, codesOf, labels, NOON, PLAN, refusal };

/** What any store of the register must do; the same for each. `fresh` gives an empty register. */
export function registerRules(store: string, fresh: () => Promise<Register>, test: Test = everyCase): void {
  describe(`the register on ${store}`, () => {
    test('issues in order, across requests', async () => {
      const register = await fresh();
      expect(await register.issue({ ...ask, count: 2 })).toEqual(PLAN.slice(0, 2));
      expect(await register.issue({ ...ask, count: 3 })).toEqual(PLAN.slice(2, 5));
      expect(await register.statuses('nine-lights')).toEqual(
        PLAN.slice(0, 5).map((numbered) => ({
          ...{ ...numbered, state: 'issued', since: NOON.toISOString(), pieces: 1 },
          parts: [{ state: 'blank', pieces: 1 }],
        })),
      );
    });

    test('knows the numbers taken since its last issue, however many', async () => {
      const register = await fresh();
      await register.issue(ask);
      await register.issue({ ...ask, count: 20 });
      await register.issue({ ...ask, count: 41 });
      expect(labels(await register.issue(ask))).toEqual(['63/90']);
      expect(labels(await register.issue({ ...ask, count: 2 }))).toEqual(['64/90', '65/90']);
    });

    test('keeps series and editions apart', async () => {
      const register = await fresh();
      await register.issue({ ...ask, count: 2 });
      expect(labels(await register.issue({ ...ask, series: 'proofs' }))).toEqual(['A.P. I/IX']);
      expect(labels(await register.issue({ ...ask, edition: 'other' }))).toEqual(['1/90']);
      expect(labels(await register.statuses('nine-lights'))).toEqual(['1/90', '2/90', 'A.P. I/IX']);
      expect(await register.statuses('unheard-of')).toEqual([]);
    });

    test('tells the state of a label', async () => {
      const register = await fresh();
      expect(await register.stateOf('nine-lights', '1/90')).toBeUndefined();
      await register.issue(ask);
      expect(await register.stateOf('nine-lights', '1/90')).toBe('issued');
      expect(await register.stateOf('nine-lights', '2/90')).toBeUndefined();
      expect(await register.stateOf('other', '1/90')).toBeUndefined();
    });

    test('refuses more than are left, takes nothing, and says how many there are', async () => {
      const register = await fresh();
      await register.issue({ ...ask, count: 88 });
      const refused = await refusal(register.issue({ ...ask, count: 3 }));
      expect(refused.exit).toBe(3);
      expect(refused.problems[0]).toMatchObject({
        ...{ code: 'register.too-few-free', where: 'edition nine-lights: series main' },
        values: { count: 3, free: 2 },
      });
      expect(labels(await register.issue({ ...ask, count: 2 }))).toEqual(['89/90', '90/90']);
      expect((await refusal(register.issue(ask))).problems[0]).toMatchObject({ values: { free: 0 } });
      expect(await register.statuses('nine-lights')).toHaveLength(90);
    });

    test('leaves excluded numbers out', async () => {
      const register = await fresh();
      const plan = plannedNumbers(
        editionOf({ id: 'main', to: 6, exclude: [{ numbers: [1, 4], why: 'unlucky' }] }),
      );
      expect(labels(await register.issue({ ...ask, planned: plan, count: 4 }))).toEqual(['2', '3', '5', '6']);
    });

    test('takes a number freed by the document before higher ones', async () => {
      const register = await fresh();
      const plan = (...numbers: number[]) =>
        plannedNumbers(editionOf({ id: 'main', to: 9, exclude: [{ numbers, why: 'w' }] }));
      expect(labels(await register.issue({ ...ask, planned: plan(2, 5), count: 3 }))).toEqual([
        '1',
        '3',
        '4',
      ]);
      // One freed and one put out after the fact: as many issued as planned, and yet there is a hole.
      expect(labels(await register.issue({ ...ask, planned: plan(3, 5), count: 2 }))).toEqual(['2', '6']);
      expect(
        (await refusal(register.issue({ ...ask, planned: plan(3, 5), count: 4 }))).problems[0],
      ).toMatchObject({ code: 'register.too-few-free', values: { free: 3 } });
    });

    test('refuses a label that was issued under another number', async () => {
      const register = await fresh();
      await register.issue({ ...ask, planned: [{ series: 'main', number: 1, label: 'X' }] });
      const again = { ...ask, planned: [{ series: 'main', number: 2, label: 'X' }] };
      expect((await refusal(register.issue(again))).exit).toBe(3);
      const elsewhere = { ...ask, series: 'second', planned: [{ series: 'second', number: 1, label: 'X' }] };
      expect((await refusal(register.issue(elsewhere))).exit).toBe(3);
      expect(await register.statuses('nine-lights')).toHaveLength(1);
    });

    test('takes all or nothing when one of several cannot be entered', async () => {
      const register = await fresh();
      await register.issue({ ...ask, planned: [{ series: 'main', number: 9, label: '3/90' }] });
      expect((await refusal(register.issue({ ...ask, count: 5 }))).exit).toBe(3);
      expect(labels(await register.statuses('nine-lights'))).toEqual(['3/90']);
      // What the failed request looked at must not count as taken.
      expect(labels(await register.issue({ ...ask, count: 2 }))).toEqual(['1/90', '2/90']);
    });

    describe('asked again', () => {
      const keyed = { ...ask, count: 3, key: 'job-7', why: 'spring batch' };

      test('with the same key gives the same numbers', async () => {
        const register = await fresh();
        const first = await register.issue(keyed);
        await register.issue(ask);
        expect(await register.issue(keyed)).toEqual(first);
        expect(await register.statuses('nine-lights')).toHaveLength(4);
      });

      test('gives them even if the document changed or the series is complete', async () => {
        const register = await fresh();
        const first = await register.issue(keyed);
        await register.issue({ ...ask, count: 87 });
        const plan = plannedNumbers(editionOf({ id: 'main', to: 5, before: 'No. ' }));
        expect(await register.issue({ ...keyed, planned: plan })).toEqual(first);
      });

      test.each([
        ['count', { count: 2 }],
        ['larger count', { count: 4 }],
        ['person', { by: 'B. Fern' }],
        ['reason', { why: 'autumn batch' }],
        ['series', { series: 'proofs' }],
        ['edition', { edition: 'other' }],
      ])('with another %s is refused', async (_what, change) => {
        const register = await fresh();
        await register.issue(keyed);
        const refused = await refusal(register.issue({ ...keyed, ...change }));
        expect(refused.exit).toBe(3);
        expect(refused.problems[0]).toMatchObject({
          code: 'register.key-reused',
          values: { key: 'job-7' },
        });
        expect(await register.statuses('nine-lights')).toHaveLength(3);
      });

      test('after a refusal may succeed', async () => {
        const register = await fresh();
        const short = { ...keyed, planned: PLAN.slice(0, 2) };
        expect((await refusal(register.issue(short))).exit).toBe(3);
        expect(await register.issue(keyed)).toEqual(PLAN.slice(0, 3));
      });

      test('without a key is a new request', async () => {
        const register = await fresh();
        await register.issue(ask);
        expect(labels(await register.issue(ask))).toEqual(['2/90']);
      });
    });

    test.each([
      ['count', { count: 0 }],
      ['count', { count: 1.5 }],
      ['count', { count: 1e9 }],
      ['by', { by: '' }],
      ['by', { by: '  ' }],
      ['by', { by: 'two\nlines' }],
      ['by', { by: '\ud800' }],
      ['why', { why: '' }],
      ['key', { key: '' }],
      ['edition', { edition: '../x' }],
      ['series', { series: 'unplanned' }],
      ['from the lowest up', { planned: [PLAN[1]!, PLAN[0]!] }],
      ['from the lowest up', { planned: [PLAN[0]!, PLAN[0]!] }],
    ])('refuses a request with a wrong %s', async (word, change) => {
      const register = await fresh();
      const refused = await refusal(register.issue({ ...ask, ...change }));
      expect(refused.exit).toBe(2);
      expect(linesOf(refused)).toContain(word);
      expect(await register.statuses('nine-lights')).toEqual([]);
    });

    test('gives requests made at once numbers of their own', async () => {
      const register = await fresh();
      const got = await Promise.all(Array.from({ length: 30 }, () => register.issue({ ...ask, count: 3 })));
      expect(new Set(labels(got.flat())).size).toBe(90);
    });

    test('says what a simple list would say, whatever is asked', async () => {
      const request = fc.record({
        series: fc.constantFrom('main', 'proofs'),
        count: fc.integer({ min: 1, max: 40 }),
        key: fc.option(fc.constantFrom('a', 'b', 'c'), { nil: undefined }),
      });
      await fc.assert(
        fc.asyncProperty(fc.array(request, { maxLength: 12 }), async (requests) => {
          const register = await fresh();
          const left = new Map(
            ['main', 'proofs'].map((id) => [id, PLAN.filter(({ series }) => series === id)]),
          );
          const byKey = new Map<string, { asked: string; got: Numbered[] }>();
          const expected: Numbered[] = [];
          for (const { series, count, key } of requests) {
            const asked = `${series} ${count}`;
            const before = key === undefined ? undefined : byKey.get(key);
            const answer = register.issue({ ...ask, series, count, key });
            const free = left.get(series)!;
            if (before?.asked === asked) {
              expect(await answer).toEqual(before.got);
            } else if (before !== undefined || free.length < count) {
              expect((await refusal(answer)).exit).toBe(3);
            } else {
              const got = free.splice(0, count);
              expect(await answer).toEqual(got);
              expected.push(...got);
              if (key !== undefined) byKey.set(key, { asked, got });
            }
          }
          expect(labels(await register.statuses('nine-lights'))).toEqual(labels(expected));
          await register.close();
        }),
        { numRuns: 8 },
      );
    });

    lifeRules(fresh, test);
    entryRules(fresh, test);
    keepingRules(fresh, test);
    manyRules(fresh);
    termsRules(fresh, test);
    occurrenceRules(fresh, test);

    test('answers nothing once closed', async () => {
      const register = await fresh();
      await register.issue(ask);
      await register.close();
      await register.close();
      expect((await refusal(register.issue(ask))).exit).toBe(2);
      expect((await refusal(register.statuses('nine-lights'))).exit).toBe(2);
    });
  });
}
