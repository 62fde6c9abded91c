import { describe, expect } from 'vitest';
import type { Numbered } from '../../src/edition/labels.js';
import type { State } from '../../src/register/lifecycle.js';
import type { Recordable, RecordRequest, Register } from '../../src/register/register.js';
import { ask, codesOf, NOON, PLAN, refusal } from './ask.js';
import type { Test } from './of-each-table.js';

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
export function lifeRules(fresh: () => Promise<Register>, test: Test): void {
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

    test.each<[string, Step[], Step, string]>([
      ['engraved twice', ENGRAVED, 'engraved', 'part-not-blank'],
      ['engraved while scrapped', ['scrapped'], 'engraved', 'part-not-blank'],
      ['engraved while destroyed', DESTROYED, 'engraved', 'part-not-blank'],
      ['engraved while withheld', ['withheld'], 'engraved', 'number-withheld'],
      ['inspected before engraved', [], 'inspected', 'piece-not-engraved'],
      ['inspected twice', INSPECTED, 'inspected', 'piece-not-engraved'],
      ['delivered before inspected', ENGRAVED, 'delivered', 'piece-not-inspected'],
      ['delivered twice', DELIVERED, 'delivered', 'piece-not-inspected'],
      ['delivered while withheld', [...INSPECTED, 'withheld'], 'delivered', 'number-withheld'],
      ['withheld twice', ['withheld'], 'withheld', 'number-withheld'],
      ['withheld once delivered', DELIVERED, 'withheld', 'too-late-to-withhold'],
      ['withheld while scrapped', ['scrapped'], 'withheld', 'too-late-to-withhold'],
      ['released without being withheld', [], 'released', 'not-withheld'],
      ['scrapped twice', ['scrapped'], 'scrapped', 'part-already-scrapped'],
      ['scrapped once destroyed', DESTROYED, 'scrapped', 'part-already-scrapped'],
      ['destroyed without being scrapped', ENGRAVED, 'destroyed', 'part-not-scrapped'],
      ['destroyed twice', DESTROYED, 'destroyed', 'part-not-scrapped'],
      ['recut without being scrapped', ENGRAVED, 'recut', 'part-not-destroyed'],
      ['recut without being destroyed', [...ENGRAVED, 'scrapped'], 'recut', 'part-not-destroyed'],
      ['recut twice', [...DESTROYED, 'recut'], 'recut', 'part-not-destroyed'],
      ['void while a piece bears it', ENGRAVED, 'void', 'number-on-piece'],
      ['void once delivered', DELIVERED, 'void', 'number-on-piece'],
      ['void while withheld and engraved', [...ENGRAVED, 'withheld'], 'void', 'number-on-piece'],
      ['void while a spoiled piece bears it', ['scrapped'], 'void', 'number-on-piece'],
      ['void twice', ['void'], 'void', 'number-void'],
      ['released once void', ['withheld', 'void'], 'released', 'number-void'],
      ['engraved once void', ['void'], 'engraved', 'number-void'],
      ['recut once void', [...DESTROYED, 'void'], 'recut', 'number-void'],
      ['engraved in a part it has not', [], 'engraved cap', 'no-such-part'],
    ])('cannot be %s', async (_what, steps, step, code) => {
      const register = await live(await fresh(), steps);
      const before = await register.statuses(EDITION);
      const refused = await refusal(register.record(asking(step)));
      expect(refused.exit).toBe(3);
      expect(codesOf(refused)).toEqual([`register.${code}`]);
      expect(await register.statuses(EDITION)).toEqual(before);
      expect(await register.size()).toBe(steps.length + 1);
    });

    test('counts the pieces a number has had, and since when it stands where it does', async () => {
      const register = await live(await fresh(), DESTROYED);
      const recut = await register.record({ ...asking('recut'), on: '2021-03-01' });
      expect(recut).toEqual({
        ...{ ...PLAN[0]!, state: 'recut', since: '2021-03-01', pieces: 2 },
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
      expect(codesOf(refused)).toEqual(['register.own-witness']);
      expect(await register.stateOf(EDITION, '1/90')).toBe('scrapped');
    });

    test('is not witnessed by the same whose name was put together otherwise', async () => {
      const register = await live(await fresh(), ['scrapped']);
      const request = { ...asking('destroyed'), by: 'Zo\u00eb Gro\u00df', witness: 'ZOE\u0308 GROSS' };
      expect(codesOf(await refusal(register.record(request)))).toEqual(['register.own-witness']);
    });

    test('has a witness', async () => {
      const register = await live(await fresh(), ['scrapped']);
      const refused = await refusal(register.record({ ...asking('destroyed'), witness: undefined }));
      expect(refused.exit).toBe(2);
      expect(codesOf(refused)).toEqual(['register.no-witness']);
    });
  });

  describe('a piece of several parts', () => {
    test('is engraved only when every part is', async () => {
      const register = await live(await fresh(), [], PARTS);
      // One part of two: the piece is still issued, and since its issue.
      const half = await register.record({ ...asking('engraved cap'), on: '2021-03-01' });
      expect([half.state, half.since]).toEqual(['issued', NOON.toISOString()]);
      expect((await refusal(register.record(asking('inspected')))).problems[0]).toMatchObject({
        code: 'register.piece-not-engraved',
        values: { blank: ['barrel'] },
      });
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

    test.each<[string, Step[], Step, string]>([
      ['engraved again in one part', ['engraved cap'], 'engraved cap', 'part-not-blank'],
      ['engraved at once when one part is', ['engraved cap'], 'engraved', 'part-not-blank'],
      [
        'recut in a part that is sound',
        [...ENGRAVED, 'scrapped cap', 'destroyed cap'],
        'recut',
        'part-not-destroyed',
      ],
      ['destroyed in a part that is sound', ['scrapped cap'], 'destroyed', 'part-not-scrapped'],
      [
        'void while one part is left',
        [...ENGRAVED, 'scrapped cap', 'destroyed cap'],
        'void',
        'number-on-piece',
      ],
      ['told of a part it has not', [], 'engraved clip', 'no-such-part'],
    ])('cannot be %s', async (_what, steps, step, code) => {
      const register = await live(await fresh(), steps, PARTS);
      const refused = await refusal(register.record(asking(step)));
      expect(refused.exit).toBe(3);
      expect(codesOf(refused)).toEqual([`register.${code}`]);
    });

    test('names each part once', async () => {
      const register = await fresh();
      expect((await refusal(register.issue({ ...ask, parts: ['cap', 'cap'] }))).exit).toBe(2);
      expect((await refusal(register.issue({ ...ask, parts: [] }))).exit).toBe(2);
    });
  });
}
