import { describe, expect, test } from 'vitest';
import type { Numbered } from '../../src/edition/labels.js';
import type { PastEvent, Recordable, RecordRequest, Register } from '../../src/register/register.js';
import type { State } from '../../src/register/state.js';
import { ask, labels, NOON, PLAN, refusal } from './ask.js';

const BY = 'A. Moss';
const EDITION = 'nine-lights';
const PARTS = ['cap', 'barrel'];
const STATEMENT = '5e'.repeat(32);

/** `destroyed cap` and the like: an event, and the part it is of. */
type Step = Recordable | `${Recordable} ${string}`;

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

const live = async (register: Register, steps: readonly Step[], parts?: readonly string[]) => {
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
      expect((await register.issued(EDITION)).map((one) => one.state)).toEqual([state]);
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
      const before = await register.issued(EDITION);
      const refused = await refusal(register.record(asking(step)));
      expect(refused.exit).toBe(3);
      expect(refused.message).toMatch(why);
      expect(await register.issued(EDITION)).toEqual(before);
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
      const register = await live(await fresh(), ['engraved cap'], PARTS);
      expect((await refusal(register.record(asking('inspected')))).message).toMatch(/still blank: barrel/);
      expect((await register.issued(EDITION))[0]).toMatchObject({
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
      expect((await register.issued(EDITION))[0]).toMatchObject({
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

  describe('a number not issued yet', () => {
    test('is passed over while withheld, and for good once void', async () => {
      const register = await fresh();
      for (const n of [0, 1, 3]) await register.record(asking('withheld', PLAN[n]!));
      await register.record(asking('void', PLAN[1]!));
      expect(labels(await register.issue({ ...ask, count: 2 }))).toEqual(['3/90', '5/90']);
      expect((await register.record(asking('released'))).state).toBe('planned');
      expect(labels(await register.issue({ ...ask, count: 2 }))).toEqual(['1/90', '6/90']);
      expect((await register.issued(EDITION)).map(({ label, state }) => `${label} ${state}`)).toEqual([
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
        expect(refused.message).toMatch(/not issued/);
        expect(await register.size()).toBe(0);
      },
    );

    test('belongs to one label from the first word about it', async () => {
      const register = await fresh();
      await register.record(asking('withheld'));
      const other = { ...asking('withheld'), label: '1 of 90' };
      expect((await refusal(register.record(other))).message).toMatch(/knows 1\/90 as number 1/);
      const elsewhere = { ...asking('void'), number: 7 };
      expect((await refusal(register.record(elsewhere))).message).toMatch(/knows 1\/90 as number 1/);
      const issue = { ...ask, planned: [{ series: 'main', number: 7, label: '1/90' }] };
      expect((await refusal(register.issue(issue))).exit).toBe(3);
    });
  });

  describe('a closed edition', () => {
    const closing = { edition: EDITION, statement: STATEMENT, by: BY };

    test('issues nothing more, and only issued numbers live on', async () => {
      const register = await live(await fresh(), []);
      await register.record(asking('withheld', PLAN[1]!));
      expect(await register.isClosed(EDITION)).toBe(false);
      await register.closeEdition(closing);
      expect(await register.isClosed(EDITION)).toBe(true);
      expect(await register.isClosed('other')).toBe(false);
      expect((await refusal(register.issue(ask))).message).toMatch(/closed/);
      for (const step of ['withheld', 'void'] as const) {
        expect((await refusal(register.record(asking(step, PLAN[2]!)))).message).toMatch(/closed/);
      }
      expect((await refusal(register.record(asking('released', PLAN[1]!)))).message).toMatch(/closed/);
      expect((await register.record(asking('engraved'))).state).toBe('engraved');
      expect(labels(await register.issue({ ...ask, edition: 'other' }))).toEqual(['1/90']);
      expect(labels(await register.issued(EDITION))).toEqual(['1/90', '2/90']);
    });

    test('is closed once; asking again with the same key is safe', async () => {
      const register = await live(await fresh(), []);
      await register.closeEdition({ ...closing, key: 'close' });
      await register.closeEdition({ ...closing, key: 'close' });
      expect(await register.size()).toBe(2);
      expect((await refusal(register.closeEdition(closing))).message).toMatch(/closed before/);
      const changed = { ...closing, key: 'close', statement: '00'.repeat(32) };
      expect((await refusal(register.closeEdition(changed))).message).toMatch(/another request/);
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
      ['day', { on: '2031-02-27' }],
    ] as const)('for another %s is refused', async (_what, change) => {
      const register = await live(await fresh(), []);
      await register.issue(ask);
      await register.record(keyed);
      const refused = await refusal(register.record({ ...keyed, ...change }));
      expect(refused.exit).toBe(3);
      expect(refused.message).toContain('bench-3 41');
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
    ['on', { on: 'yesterday' }],
    ['witness', { witness: 'B. Fern' }],
    ['to', { to: 'somebody' }],
  ])('a record with a wrong %s is refused', async (word, change) => {
    const register = await live(await fresh(), []);
    const refused = await refusal(register.record({ ...asking('engraved'), ...change }));
    expect(refused.exit).toBe(2);
    expect(refused.message).toContain(word);
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
      await register.bringIn([past('issued'), past('issued', 1), past('engraved'), past('void', 4)]);
      expect((await register.issued(EDITION)).map(({ state, since }) => [state, since])).toEqual([
        ['engraved', '1998-05-04'],
        ['issued', '1998-05-04'],
        ['void', '1998-05-04'],
      ]);
      expect(labels(await register.issue({ ...ask, count: 3 }))).toEqual(['3/90', '4/90', '6/90']);
      await register.bringIn([past('inspected')]);
      expect(await register.stateOf(EDITION, '1/90')).toBe('inspected');
    });

    test.each<[string, PastEvent[], RegExp]>([
      ['of a wrong order', [past('issued'), past('inspected')], /event 2: label 1\/90: It is issued/],
      ['twice', [past('issued'), past('issued')], /event 2: label 1\/90: It cannot be issued twice/],
      ['of a clash', [past('issued'), { ...past('issued', 1), label: '1/90' }], /event 2.*knows 1\/90/],
      ['of another clash', [past('issued'), { ...past('issued', 1), number: 1 }], /event 2.*knows 1\/90/],
    ])('are refused as a whole because of one %s', async (_what, events, why) => {
      const register = await fresh();
      const refused = await refusal(register.bringIn(events));
      expect(refused.exit).toBe(3);
      expect(refused.message).toMatch(why);
      expect(await register.size()).toBe(0);
    });
  });
}
