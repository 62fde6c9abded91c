import { describe, expect } from 'vitest';
import { leafHash } from '../../src/register/event.js';
import type { RawEvent, Register, StoredCheckpoint } from '../../src/register/register.js';
import { ask, PLAN, refusal, STATED } from './ask.js';
import { asking } from './life-rules.js';
import type { Test } from './of-each-table.js';

const all = async (events: AsyncIterable<RawEvent>): Promise<RawEvent[]> => {
  const list: RawEvent[] = [];
  for await (const event of events) list.push(event);
  return list;
};

async function* given(events: readonly RawEvent[]): AsyncGenerator<RawEvent> {
  yield* events;
}

const note = (size: number): StoredCheckpoint => ({
  size,
  note: `nine-lights\n${size}\n`,
  frontier: [leafHash('a'), leafHash('b')],
});

/** What any store must do with its sequence as a whole: give it out, take it over, keep checkpoints beside it. */
export function keepingRules(fresh: () => Promise<Register>, test: Test): void {
  describe('the sequence', () => {
    test('is given out in order, from any place, while others write', async () => {
      const register = await fresh();
      expect(await all(register.events())).toEqual([]);
      expect(await register.size()).toBe(0);
      await register.issue({ ...ask, count: 90 });
      for (let more = 0; more < 7; more++) {
        await register.issue({ ...ask, edition: `edition-${more}`, count: 90 });
      }
      const seen: number[] = [];
      for await (const { seq, body, leaf } of register.events(3)) {
        expect(leafHash(body).equals(leaf)).toBe(true);
        if (seen.length === 10) await register.record(asking('engraved'));
        seen.push(seq);
      }
      expect(seen).toEqual(Array.from({ length: 718 }, (_, i) => i + 3));
      expect(await register.size()).toBe(721);
      expect(await all(register.events(721))).toEqual([]);
    });

    test('is restored whole, hash for hash, with its checkpoints', async () => {
      const [one, two] = [await fresh(), await fresh()];
      await one.issue({ ...ask, count: 4, key: 'job-7', parts: ['cap'] });
      for (const step of ['scrapped', 'destroyed', 'recut'] as const) await one.record(asking(step));
      await one.closeEdition({
        edition: 'nine-lights',
        statement: 'ab'.repeat(32),
        stated: STATED,
        by: 'A. Moss',
      });
      await one.addCheckpoint(note(4));
      await two.restore(one.events(), await one.checkpoints());
      expect(await all(two.events())).toEqual(await all(one.events()));
      expect(await two.checkpoints()).toEqual([note(4)]);
      expect(await two.statuses('nine-lights')).toEqual(await one.statuses('nine-lights'));
      expect(await two.issue({ ...ask, count: 4, key: 'job-7' })).toEqual(PLAN.slice(0, 4));
      expect((await two.record(asking('engraved'))).state).toBe('engraved');
    });

    const spoiled: [string, (events: RawEvent[]) => RawEvent[], object][] = [
      [
        'a changed text',
        ([a, b]) => [a!, { ...b!, body: b!.body.replace('Moss', 'Fern') }],
        { code: 'register.damaged-event', values: { fault: 'hash' } },
      ],
      ['a gap', ([a, , c]) => [a!, c!], { code: 'register.event-out-of-sequence', values: { expected: 1 } }],
      [
        'the first left out',
        ([, b]) => [b!],
        { code: 'register.event-out-of-sequence', values: { expected: 0 } },
      ],
      ['an event that cannot be', ([a]) => [a!, { ...a!, seq: 1 }], { code: 'register.issued-before' }],
    ];
    test.each(spoiled)('is not restored with %s', async (_what, spoil, fault) => {
      const [one, two] = [await fresh(), await fresh()];
      await one.issue({ ...ask, count: 3 });
      const refused = await refusal(two.restore(given(spoil(await all(one.events()))), []));
      expect(refused.exit).toBe(3);
      expect(refused.problems[0]).toMatchObject(fault);
      expect(await two.size()).toBe(0);
      await two.restore(one.events(), []);
      expect(await two.size()).toBe(3);
    });

    test('is not restored into a register with events', async () => {
      const [one, two] = [await fresh(), await fresh()];
      await one.issue(ask);
      await two.issue({ ...ask, edition: 'other' });
      expect((await refusal(two.restore(one.events(), []))).exit).toBe(3);
      expect(await two.size()).toBe(1);
    });
  });

  describe('a checkpoint', () => {
    test('is kept, smallest first, and may be kept again', async () => {
      const register = await fresh();
      expect(await register.checkpoints()).toEqual([]);
      await register.issue({ ...ask, count: 5 });
      for (const size of [5, 2, 5]) await register.addCheckpoint(note(size));
      expect(await register.checkpoints()).toEqual([note(2), note(5)]);
    });

    test('is not changed, and not of more events than there are', async () => {
      const register = await fresh();
      await register.issue({ ...ask, count: 2 });
      await register.addCheckpoint(note(2));
      expect((await refusal(register.addCheckpoint({ ...note(2), note: 'x' }))).exit).toBe(3);
      expect((await refusal(register.addCheckpoint(note(3)))).exit).toBe(3);
      expect(await register.checkpoints()).toEqual([note(2)]);
    });
  });
}
