import { describe, expect, test } from 'vitest';
import type { Numbered } from '../../src/edition/labels.js';
import type { State } from '../../src/register/lifecycle.js';
import type { Recordable, RecordRequest, Register } from '../../src/register/register.js';
import { ask, NOON, PLAN, refusal } from './ask.js';

export const BY = 'A. Moss';
export const EDITION = 'nine-lights';
const PARTS = ['cap', 'barrel'];

/** `destroyed cap` and the like: an event, and the part it is of. */
export type Step = Recordable | `${Recordable} ${string}`;

export const asking = (step: Step, of: Numbered = PLAN[0]!): RecordRequest => {
  const [event, part] = step.split(' ') as [Recordable, string | undefined];
  return {
    ...of,
    edition: EDITION,
    event,
    by: BY,
    part,
    ...(event === 'destroyed' && { witness: 'B. Fern' }),
  };
};

/** A register with number 1 issued and brought so far. */
export const live = async (register: Register, steps: readonly Step[], parts?: readonly string[]) => {
  await register.issue({ ...ask, parts });
  for (const step of steps) await register.record(asking(step));
  return register;
};

const ENGRAVED: Step[] = ['engraved'];
const INSPECTED: Step[] = [...ENGRAVED, 'inspected'];
const DELIVERED: Step[] = [...INSPECTED, 'delivered'];
const DESTROYED: Step[] = [...ENGRAVED, 'scrapped', 'destroyed'];

/** What any store must do with the life of a number after its issue; the same for each. */
export function lifeRules(fresh: () => Promise<Register>): void {
  describe('the life of a number', () => {
    test.each<[State, Step[]]>([
      ['issued', []],
      ['engraved', ENGRAVED],
      ['inspected', INSPECTED],
      ['delivered', DELIVERED],
      ['withheld', ['withheld']],
      ['issued', ['withheld', 'released']],
      ['engraved', [...ENGRAVED, 'withheld', 'released']],
      ['inspected', [...INSPECTED, 'withheld', 'released']],
      ['scrapped', ['scrapped']],
      ['scrapped', [...DELIVERED, 'scrapped']],
      ['destroyed', DESTROYED],
      ['recut', [...DESTROYED, 'recut']],
      ['withheld', [...DESTROYED, 'recut', 'withheld']],
      ['recut', [...DESTROYED, 'recut', 'withheld', 'released']],
      ['delivered', [...DELIVERED, 'scrapped', 'destroyed', 'recut', ...DELIVERED]],
      ['void', ['void']],
      ['void', ['withheld', 'void']],
      ['void', [...DESTROYED, 'void']],
    ])('comes to %s by %j', async (state, steps) => {
      const register = await live(await fresh(), steps);
      expect(await register.stateOf(EDITION, '1/90')).toBe(state);
      expect((await register.statuses(EDITION)).map((one) => one.state)).toEqual([state]);
      expect((await register.history(EDITION, '1/90')).map(({ event }) => event.type)).toEqual([
        'issued',
        ...steps,
      ]);
    });

    test.each<[string, Step[], Step, RegExp]>([
      ['engraved twice', ENGRAVED, 'engraved', /engraved already/],
      ['engraved while scrapped', ['scrapped'], 'engraved', /scrapped and cannot be engraved/],
      ['engraved while destroyed', DESTROYED, 'engraved', /destroyed and cannot be engraved/],
      ['engraved while withheld', ['withheld'], 'engraved', /withheld and cannot be engraved/],
      ['inspected before engraved', [], 'inspected', /issued and cannot be inspected/],
      ['inspected twice', INSPECTED, 'inspected', /inspected and cannot be inspected/],
      ['delivered before inspected', ENGRAVED, 'delivered', /engraved and cannot be delivered/],
      ['delivered twice', DELIVERED, 'delivered', /delivered before/],
      ['delivered while withheld', [...INSPECTED, 'withheld'], 'delivered', /withheld/],
      ['withheld twice', ['withheld'], 'withheld', /withheld/],
      ['withheld once delivered', DELIVERED, 'withheld', /delivered and cannot be withheld/],
      ['withheld while scrapped', ['scrapped'], 'withheld', /scrapped and cannot be withheld/],
      ['released without being withheld', [], 'released', /not withheld/],
      ['scrapped twice', ['scrapped'], 'scrapped', /scrapped already/],
      ['scrapped once destroyed', DESTROYED, 'scrapped', /destroyed already/],
      ['destroyed without being scrapped', ENGRAVED, 'destroyed', /engraved, not scrapped/],
      ['destroyed twice', DESTROYED, 'destroyed', /destroyed, not scrapped/],
      ['recut without being scrapped', ENGRAVED, 'recut', /not destroyed.*two pieces/],
      ['recut without being destroyed', [...ENGRAVED, 'scrapped'], 'recut', /not destroyed.*two pieces/],
      ['recut twice', [...DESTROYED, 'recut'], 'recut', /blank, not destroyed/],
      ['void while a piece bears it', ENGRAVED, 'void', /still bears the number/],
      ['void once delivered', DELIVERED, 'void', /still bears the number/],
      ['void while withheld and engraved', [...ENGRAVED, 'withheld'], 'void', /still bears the number/],
      ['void while a spoiled piece bears it', ['scrapped'], 'void', /still bears the number/],
      ['void twice', ['void'], 'void', /It is void/],
      ['released once void', ['withheld', 'void'], 'released', /It is void/],
      ['engraved once void', ['void'], 'engraved', /It is void/],
      ['recut once void', [...DESTROYED, 'void'], 'recut', /It is void/],
      ['engraved in a part it has not', [], 'engraved cap', /No part cap/],
    ])('cannot be %s', async (_what, steps, step, why) => {
      const register = await live(await fresh(), steps);
      const before = await register.statuses(EDITION);
      const refused = await refusal(register.record(asking(step)));
      expect(refused.exit).toBe(3);
      expect(refused.message).toMatch(why);
      expect(await register.statuses(EDITION)).toEqual(before);
      expect(await register.size()).toBe(steps.length + 1);
    });

    test('counts the pieces a number has had, and since when it stands where it does', async () => {
      const register = await live(await fresh(), DESTROYED);
      const recut = await register.record({ ...asking('recut'), on: '2031-02-27' });
      expect(recut).toEqual({
        ...{ ...PLAN[0]!, state: 'recut', since: '2031-02-27', pieces: 2 },
        parts: [{ state: 'blank', pieces: 2 }],
      });
      const engraved = await register.record(asking('engraved'));
      expect(engraved.since).toBe(NOON.toISOString());
      expect(engraved.pieces).toBe(2);
    });
  });

  describe('a destruction', () => {
    test.each([
      ['the one who records it', 'A. Moss'],
      ['the same in other letters', 'a. MOSS'],
      ['the same with other spacing', ' A.   Moss '],
      ['the same in wide letters', 'Ａ. Ｍoss'],
    ])('is not witnessed by %s', async (_what, witness) => {
      const register = await live(await fresh(), ['scrapped']);
      const refused = await refusal(register.record({ ...asking('destroyed'), witness }));
      expect(refused.exit).toBe(3);
      expect(refused.message).toMatch(/cannot be its witness/);
      expect(await register.stateOf(EDITION, '1/90')).toBe('scrapped');
    });

    test('is not witnessed by the same whose name was put together otherwise', async () => {
      const register = await live(await fresh(), ['scrapped']);
      const told = { ...asking('destroyed'), by: 'Zo\u00eb Gro\u00df', witness: 'ZOE\u0308 GROSS' };
      expect((await refusal(register.record(told))).message).toMatch(/cannot be its witness/);
    });

    test('has a witness', async () => {
      const register = await live(await fresh(), ['scrapped']);
      const refused = await refusal(register.record({ ...asking('destroyed'), witness: undefined }));
      expect(refused.exit).toBe(2);
      expect(refused.message).toMatch(/No witness/);
    });
  });

  describe('a piece of several parts', () => {
    test('is engraved only when every part is', async () => {
      const register = await live(await fresh(), [], PARTS);
      // One part of two: the piece is still issued, and since its issue.
      const half = await register.record({ ...asking('engraved cap'), on: '2031-02-27' });
      expect([half.state, half.since]).toEqual(['issued', NOON.toISOString()]);
      expect((await refusal(register.record(asking('inspected')))).message).toMatch(/still blank: barrel/);
      expect((await register.statuses(EDITION))[0]).toMatchObject({
        state: 'issued',
        parts: [
          { part: 'cap', state: 'engraved' },
          { part: 'barrel', state: 'blank' },
        ],
      });
      expect((await register.record(asking('engraved barrel'))).state).toBe('engraved');
    });

    test('is engraved at once when no part is named', async () => {
      const register = await live(await fresh(), ENGRAVED, PARTS);
      expect(await register.stateOf(EDITION, '1/90')).toBe('engraved');
    });

    test('is spoiled by one part, and whole again with a second one', async () => {
      const register = await live(await fresh(), DELIVERED, PARTS);
      const states: State[] = [];
      for (const step of ['scrapped cap', 'destroyed cap', 'recut cap', 'engraved cap'] as const) {
        states.push((await register.record(asking(step))).state);
      }
      expect(states).toEqual(['scrapped', 'destroyed', 'recut', 'engraved']);
      expect((await register.statuses(EDITION))[0]).toMatchObject({
        pieces: 2,
        parts: [
          { part: 'cap', state: 'engraved', pieces: 2 },
          { part: 'barrel', state: 'engraved', pieces: 1 },
        ],
      });
      // It was inspected and delivered with the cap that is no more.
      expect((await refusal(register.record(asking('delivered')))).exit).toBe(3);
    });

    test.each<[string, Step[], Step, RegExp]>([
      ['engraved again in one part', ['engraved cap'], 'engraved cap', /Part cap is engraved already/],
      ['engraved at once when one part is', ['engraved cap'], 'engraved', /Part cap is engraved already/],
      [
        'recut in a part that is sound',
        [...ENGRAVED, 'scrapped cap', 'destroyed cap'],
        'recut',
        /barrel is engr/,
      ],
      ['destroyed in a part that is sound', ['scrapped cap'], 'destroyed', /barrel is blank/],
      [
        'void while one part is left',
        [...ENGRAVED, 'scrapped cap', 'destroyed cap'],
        'void',
        /barrel is engr/,
      ],
      ['told of a part it has not', [], 'engraved clip', /No part clip.*cap, barrel/],
    ])('cannot be %s', async (_what, steps, step, why) => {
      const register = await live(await fresh(), steps, PARTS);
      const refused = await refusal(register.record(asking(step)));
      expect(refused.exit).toBe(3);
      expect(refused.message).toMatch(why);
    });

    test('names each part once', async () => {
      const register = await fresh();
      expect((await refusal(register.issue({ ...ask, parts: ['cap', 'cap'] }))).exit).toBe(2);
      expect((await refusal(register.issue({ ...ask, parts: [] }))).exit).toBe(2);
    });
  });
}
