import { createHash } from 'node:crypto';
import { describe, expect, test } from 'vitest';
import { Refusal } from '../../src/problem.js';
import { fromLeaf, leafHash, type RegisterEvent, readEvent, toLeaf } from '../../src/register/event.js';
import { replay } from '../../src/register/lifecycle.js';
import { lineOf } from '../words-of.js';

const event: RegisterEvent = {
  type: 'issued',
  why: 'next free number',
  series: 'main',
  number: 12,
  label: '12/90',
  edition: 'nine-lights',
  by: 'A. Mößs €',
  at: '2021-03-01T12:00:00.000Z',
};

describe('an event', () => {
  test('has one text: names sorted, no blanks, no needless escapes (RFC 8785, 3.2)', () => {
    expect(toLeaf(event).body).toBe(
      '{"at":"2021-03-01T12:00:00.000Z","by":"A. Mößs €","edition":"nine-lights","label":"12/90","number":12,' +
        '"series":"main","type":"issued","why":"next free number"}',
    );
    const turned = Object.fromEntries(Object.entries(event).reverse()) as RegisterEvent;
    expect(toLeaf(turned)).toEqual(toLeaf(event));
  });

  test('escapes what RFC 8785, 3.2.2.2 says, and nothing else', () => {
    expect(toLeaf({ ...event, why: 'a "b" \\ / é \u{1f58b}' }).body).toContain(
      '"why":"a \\"b\\" \\\\ / é \u{1f58b}"',
    );
  });

  test('has a leaf hash as RFC 9162, 2.1.1 makes it', () => {
    // SHA-256 of the single byte 00: the hash of an empty leaf in the known test vectors of the log (from memory).
    expect(leafHash('').toString('hex')).toBe(
      '6e340b9cffb37a989ca544e6bb780a2c78901d3fb33738768511a30617afa01d',
    );
    const { body, leaf } = toLeaf(event);
    const bytes = Buffer.concat([Buffer.of(0), Buffer.from(body, 'utf8')]);
    expect(leaf).toEqual(createHash('sha256').update(bytes).digest());
  });

  test('comes back as it was', () => {
    expect(fromLeaf(0, toLeaf(event))).toEqual(event);
    expect(fromLeaf(0, toLeaf({ ...event, key: 'k', nth: 2 }))).toEqual({ ...event, key: 'k', nth: 2 });
  });

  test.each([
    ['a blank label', { label: ' ' }],
    ['a line break', { label: '1\n' }],
    ['half a character', { by: '\udc00' }],
    ['number 0', { number: 0 }],
    ['a local time', { at: '2021-03-01T12:00:00.000+01:00' }],
    ['a key without a place', { key: 'k' }],
  ])('with %s cannot be entered', (_what, change) => {
    expect(() => toLeaf({ ...event, ...change })).toThrow(/register\.malformed-event$/);
  });

  test.each([
    [
      'a missing name',
      { by: undefined },
      'register.fault-missing',
      'the name of the person (--by) is missing',
    ],
    [
      'a number for a name',
      { by: 7 },
      'register.fault-other-form',
      'the name of the person (--by) is not text',
    ],
    ['a name of blanks', { by: ' ' }, 'register.fault-blank', 'the name of the person (--by) is blank'],
    [
      'a line break',
      { by: 'E. Marrow\nA. Moss' },
      'register.fault-line-break',
      'the name of the person (--by) has a line break, and must be one line',
    ],
    [
      'a bell',
      { by: 'E.\u0007' },
      'register.fault-control-character',
      'the name of the person (--by) has a control character (U+0007)',
    ],
    [
      'capitals in an id',
      { series: 'Main' },
      'register.fault-not-an-id',
      '`series` is not an id of lower-case letters, digits and hyphens',
    ],
  ])('with %s is refused in words', (_what, change, phrase, words) => {
    let refused: unknown;
    try {
      readEvent({ ...event, ...change }, 'label 1/90');
    } catch (error) {
      refused = error;
    }
    if (!(refused instanceof Refusal)) throw new Error('the event was accepted');
    expect(refused.problems).toMatchObject([{ values: { faults: [{ phrase }] } }]);
    expect(lineOf(refused.problems[0]!)).toContain(`The entry is not valid: ${words}.`);
  });

  const kept = (body: string) => ({ body, leaf: leafHash(body) });

  test.each([
    ['another hash', { ...toLeaf(event), leaf: leafHash('') }, 'hash'],
    ['blanks in it', kept(toLeaf(event).body.replace(',', ', ')), 'canonical'],
    ['a name twice', kept(toLeaf(event).body.replace('{', '{"at":"x",')), 'canonical'],
    ['no JSON', kept('{'), 'canonical'],
    ['a text as deep as a well', kept(`${'{"a":'.repeat(20_000)}1${'}'.repeat(20_000)}`), 'canonical'],
    ['an unknown kind', kept(toLeaf(event).body.replace('issued', 'melted')), 'form'],
    ['a further name', kept(`{"a":1,${toLeaf(event).body.slice(1)}`), 'form'],
  ])('kept with %s is not believed', (_what, leaf, fault) => {
    const damaged = { code: 'register.damaged-event', where: 'register event 7', values: { fault } };
    expect(() => fromLeaf(7, leaf)).toThrow(
      expect.objectContaining({ problems: [expect.objectContaining(damaged)] }),
    );
  });
});

describe('the state of a number', () => {
  test('is what its events come to', () => {
    const once = { since: event.at, pieces: 1, parts: [{ state: 'blank', pieces: 1 }] };
    const other = { ...event, number: 13, label: '13/90' };
    expect(replay([{ event }, { event: other }])).toEqual([
      { series: 'main', number: 12, label: '12/90', state: 'issued', ...once },
      { series: 'main', number: 13, label: '13/90', state: 'issued', ...once },
    ]);
    expect(replay([])).toEqual([]);
  });

  test('cannot be issued twice', () => {
    expect(() => replay([{ event }, { event }])).toThrow('label 12/90: register.impossible-history');
  });
});
