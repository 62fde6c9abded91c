import { describe, expect, test } from 'vitest';
import { replay } from '../../src/register/lifecycle.js';
import type { ManyRequest, Register, VerifiedEvent } from '../../src/register/register.js';
import { ask, codesOf, labels, PLAN, refusal } from './ask.js';
import { asking, BY, EDITION } from './life-rules.js';

const many = (event: ManyRequest['event'], ...places: number[]): ManyRequest[] =>
  places.map((place) => ({ ...PLAN[place]!, edition: EDITION, event, by: BY }));

/** Many numbers in one transaction, chosen numbers, and reserved ones. */
export function manyRules(fresh: () => Promise<Register>): void {
  describe('many numbers at once', () => {
    test('are entered all, in one request that can be asked again', async () => {
      const register = await fresh();
      await register.issue({ ...ask, count: 3 });
      const asked = many('engraved', 0, 1, 2);
      const first = await register.recordAll(asked, { key: 'week 9' });
      expect(first.map(({ label, state }) => `${label} ${state}`)).toEqual([
        ...['1/90 engraved', '2/90 engraved', '3/90 engraved'],
      ]);
      await register.recordAll(many('inspected', 0), {});
      expect(await register.recordAll(asked, { key: 'week 9' })).toEqual(first);
      expect(await register.size()).toBe(7);
      const other = register.recordAll(asked.slice(1), { key: 'week 9' });
      expect(codesOf(await refusal(other))).toEqual(['register.key-reused']);
    });

    test('are refused together, with what is wrong with each, and none is entered', async () => {
      const register = await fresh();
      await register.issue({ ...ask, count: 2 });
      await register.record(asking('engraved'));
      const asked = many('engraved', 0, 1, 2);
      for (const answer of [() => register.recordAll(asked, {}), () => register.checkAll(asked)]) {
        const refused = await refusal(answer());
        expect([refused.exit, codesOf(refused)]).toEqual([
          3,
          ['register.part-not-blank', 'register.not-issued', 'register.none-entered'],
        ]);
        expect(refused.problems.map(({ where }) => where)).toEqual([
          ...['label 1/90', 'label 3/90', `edition ${EDITION}`],
        ]);
        expect(refused.problems[2]!.values).toEqual({ refused: 2, asked: 3 });
      }
      expect(await register.size()).toBe(3);
    });

    test('can be several events of one number, in order', async () => {
      const register = await fresh();
      await register.issue(ask);
      const life = [...many('engraved', 0), ...many('inspected', 0), ...many('delivered', 0)];
      expect((await register.checkAll(life)).map(({ state }) => state)).toEqual([
        ...['engraved', 'inspected', 'delivered'],
      ]);
      expect(await register.size()).toBe(1);
      await register.recordAll(life, {});
      expect(await register.stateOf(EDITION, '1/90')).toBe('delivered');
      const backwards = [...many('inspected', 0), ...many('returned', 0)];
      expect(codesOf(await refusal(register.recordAll(backwards, {})))).toEqual([
        ...['register.piece-not-engraved', 'register.none-entered'],
      ]);
    });

    test('are read some at a time, and come to the same', async () => {
      const register = await fresh();
      await register.issue({ ...ask, count: 2 });
      await register.issue({ ...ask, edition: 'other', count: 1 });
      await register.enterAll(Array.from({ length: 1100 }, (_, i) => many('noted', i % 2)[0]!));
      await register.enterAll([...many('engraved', 1), ...many('withheld', 0)]);
      const history = await register.editionHistory(EDITION);
      const read = async (parts: AsyncIterable<readonly VerifiedEvent[]>) => {
        const events: VerifiedEvent[] = [];
        for await (const some of parts) {
          expect(some.length).toBeLessThanOrEqual(500);
          events.push(...some);
        }
        return events;
      };
      const expected = history.map(({ seq, event }) => ({ seq, event }));
      expect(expected).toHaveLength(1104);
      expect(await read(register.editionEvents(EDITION))).toEqual(expected);
      expect(await register.statuses(EDITION)).toEqual(replay(history));
      const places = expected.map(({ seq }) => seq).filter((_, i) => i % 50 === 0);
      expect(await read(register.eventsAt(places))).toEqual(expected.filter((_, i) => i % 50 === 0));
      expect(await read(register.eventsAt([]))).toEqual([]);
      const refused = await refusal(read(register.eventsAt([3, 99_999])));
      expect([refused.exit, refused.problems[0]?.where]).toEqual([3, 'register event 99999']);
    });

    test('are entered in one transaction however many they are, and each follows on all before it', async () => {
      const register = await fresh();
      await register.issue({ ...ask, count: 2 });
      // More than are entered at once, and a life that goes on from one lot to the next.
      const asked = Array.from({ length: 1100 }, (_, i) => many('noted', i % 2)[0]!);
      asked[499] = many('engraved', 0)[0]!;
      asked[500] = many('inspected', 0)[0]!;
      asked[1099] = many('delivered', 0)[0]!;
      for (const answer of [
        () => register.enterAll(asked.with(700, many('engraved', 0)[0]!).with(1050, many('engraved', 2)[0]!)),
        () =>
          register.recordAll(asked.with(0, many('inspected', 1)[0]!).with(1, many('engraved', 2)[0]!), {}),
      ]) {
        const refused = await refusal(answer());
        expect(codesOf(refused).slice(1)).toEqual(['register.not-issued', 'register.none-entered']);
        expect(refused.problems[2]!.values).toEqual({ refused: 2, asked: 1100 });
        expect(await register.size()).toBe(2);
      }
      let read = 0;
      const once = function* () {
        for (const one of asked) {
          read++;
          yield one;
        }
      };
      await register.enterAll(once());
      expect([read, await register.size()]).toEqual([1100, 1102]);
      expect(await register.stateOf(EDITION, '1/90')).toBe('delivered');
      await register.enterAll([]);
      expect(await register.size()).toBe(1102);
    });

    test('are checked where there is no register yet, and none is made', async () => {
      const register = await fresh();
      expect((await register.checkAll(many('withheld', 3))).map(({ state }) => state)).toEqual(['withheld']);
      expect(codesOf(await refusal(register.checkAll(many('engraved', 3))))).toEqual(['register.not-issued']);
      expect(await register.size()).toBe(0);
    });
  });

  describe('chosen numbers', () => {
    const choose = (...chosen: string[]) => ({ ...ask, count: chosen.length, chosen, why: 'a birthday' });

    test('are issued as such; the next free ones go on around them', async () => {
      const register = await fresh();
      expect(labels(await register.issue(choose('12/90', '2/90')))).toEqual(['2/90', '12/90']);
      expect(labels(await register.issue({ ...ask, count: 2 }))).toEqual(['1/90', '3/90']);
    });

    test('are released where they were reserved, in the same transaction and request', async () => {
      const register = await fresh();
      await register.record({ ...asking('withheld', PLAN[4]!), why: 'reserved for the museum' });
      const asked = { ...choose('5/90', '6/90'), key: 'museum' };
      const issued = await register.issue(asked);
      expect(labels(issued)).toEqual(['5/90', '6/90']);
      expect((await register.history(EDITION, '5/90')).map(({ event }) => event.type)).toEqual([
        ...['withheld', 'released', 'issued'],
      ]);
      expect(await register.issue(asked)).toEqual(issued);
      expect(await register.size()).toBe(4);
    });

    test('are refused with what is wrong with each, and none is issued', async () => {
      const register = await fresh();
      await register.issue(ask);
      await register.record(asking('void', PLAN[1]!));
      const refused = await refusal(register.issue(choose('1/90', '2/90', '3/90', '91/90')));
      expect([refused.exit, codesOf(refused)]).toEqual([
        3,
        ['register.chosen-not-planned', 'register.issued-before', 'register.number-void'],
      ]);
      expect(await register.size()).toBe(2);
    });
  });
}
