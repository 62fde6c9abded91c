import { describe, expect, test } from 'vitest';
import { EVENT_MEMBERS, type NumberEvent, registerEvent } from '../../src/register/event.js';
import { applyEvent, type Life, replay, validate } from '../../src/register/lifecycle.js';
import { MEMBERS } from '../../src/register/rule-sql.js';
import { NUMBER_EVENTS, PART_EVENTS, RULES, TRANSITIONS } from '../../src/register/transitions.js';
import { codesOf, NOON, PLAN, refusal } from './ask.js';

const event = (type: string, more: object = {}): NumberEvent =>
  ({
    ...{ type, edition: 'nine-lights', ...PLAN[0]!, by: 'A. Moss', at: NOON.toISOString(), why: 'a test' },
    ...(type === 'destroyed' && { witness: 'B. Fern' }),
    ...more,
  }) as NumberEvent;

describe('the table of transitions', () => {
  test('has a row for each event of a number, and no other', () => {
    const types = Object.keys(EVENT_MEMBERS).filter(
      (type) => !['opened', 'amended', 'closed', 'resumed'].includes(type),
    );
    expect([...NUMBER_EVENTS].sort()).toEqual(types.sort());
  });

  test('agrees with the form of events on which of them may name a part', () => {
    const withPart = NUMBER_EVENTS.filter((type) => EVENT_MEMBERS[type].optional.includes('part'));
    expect(NUMBER_EVENTS.filter((type) => TRANSITIONS[type].parts).sort()).toEqual(withPart.sort());
    expect(withPart).toEqual(expect.arrayContaining([...PART_EVENTS]));
  });

  test('gives each refusal by parts or stage a code', () => {
    for (const type of NUMBER_EVENTS) {
      const { parts, everyPart, somePart, stage, refusal } = TRANSITIONS[type];
      expect(refusal !== undefined).toBe(Boolean(parts ?? everyPart ?? somePart ?? stage?.from));
      for (const { code } of RULES[type]) expect(code).toMatch(/^register\./);
    }
  });

  test('knows every member of an event', () => {
    for (const one of NUMBER_EVENTS) {
      const { required, optional } = EVENT_MEMBERS[one];
      for (const member of [...required, ...optional]) expect(MEMBERS).toContain(member);
      const shape = registerEvent.options.find(({ shape }) => shape.type.value === one)!.shape;
      expect([...required, ...optional].sort()).toEqual(Object.keys(shape).sort());
    }
  });
});

describe('a status', () => {
  test('is refused a second part that is not free, once for each part', () => {
    const issued = applyEvent(undefined, event('issued', { parts: ['cap', 'barrel'] }));
    const engraved = applyEvent(issued, event('engraved'));
    const problems = validate(engraved, event('engraved'), false);
    expect(problems.map(({ code, values }) => [code, values.part])).toEqual([
      ['register.part-not-blank', 'cap'],
      ['register.part-not-blank', 'barrel'],
    ]);
  });

  test('is not changed by validation, nor by an event that is refused', async () => {
    const issued = applyEvent(undefined, event('issued'));
    const before = structuredClone(issued) as Life;
    expect(validate(issued, event('inspected'), false)).toHaveLength(1);
    const refused = await refusal(Promise.resolve().then(() => applyEvent(issued, event('inspected'))));
    expect(codesOf(refused)).toEqual(['register.piece-not-engraved']);
    expect(issued).toEqual(before);
  });

  test('cannot be replayed from what cannot have happened', async () => {
    const events = [event('issued'), event('delivered')];
    const refused = await refusal(
      Promise.resolve().then(() => replay(events.map((one) => ({ event: one })))),
    );
    expect(refused.problems[0]).toMatchObject({
      code: 'register.impossible-history',
      values: { fault: { code: 'register.piece-not-inspected' } },
    });
  });
});
