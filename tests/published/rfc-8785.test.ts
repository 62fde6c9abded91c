import canonicalizeModule from 'canonicalize';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { fromLeaf, leafHash, type RegisterEvent, toLeaf } from '../../src/register/event.js';

const canonicalize = canonicalizeModule as unknown as (value: unknown) => string | undefined;

/**
 * RFC 8785: what an event's text is made of. The sample of 3.2.2 and the order of 3.2.3 are from memory. An event holds
 * strings, whole numbers and one list; of the sample only its strings and names can be put through an event itself.
 */
const SAMPLE = String.raw`{
  "numbers": [333333333.33333329, 1E30, 4.50, 2e-3, 0.000000000000000000000000001],
  "string": "\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\/",
  "literals": [null, true, false]
}`;
const WRITTEN = String.raw`{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],"string":"€$\u000f\nA'B\"\\\\\"/"}`;

const base = {
  type: 'issued',
  edition: 'nine-lights',
  series: 'main',
  number: 12,
  label: '12/90',
  by: 'E. Marrow',
  at: '2031-03-01T09:30:00.000Z',
  why: 'next free number',
} as const;

/** The rules of 3.2 written plainly, for flat objects of strings, whole numbers and lists of strings. */
const SHORT: Record<string, string> = { '\b': '\\b', '\t': '\\t', '\n': '\\n', '\f': '\\f', '\r': '\\r' };
function text(value: string): string {
  let out = '"';
  for (let i = 0; i < value.length; i++) {
    const unit = value[i]!;
    if (unit === '"' || unit === '\\') out += `\\${unit}`;
    else if (unit < ' ') out += SHORT[unit] ?? `\\u${unit.charCodeAt(0).toString(16).padStart(4, '0')}`;
    else out += unit;
  }
  return `${out}"`;
}
const byUnits = (one: string, other: string): number => {
  for (let i = 0; i < Math.min(one.length, other.length); i++) {
    const difference = one.charCodeAt(i) - other.charCodeAt(i);
    if (difference !== 0) return difference;
  }
  return one.length - other.length;
};
type Flat = Record<string, string | number | readonly string[]>;
const plain = (value: Flat): string =>
  `{${Object.keys(value)
    .sort(byUnits)
    .map((name) => {
      const held = value[name]!;
      const written =
        typeof held === 'string'
          ? text(held)
          : typeof held === 'number'
            ? `${held}`
            : `[${held.map(text).join(',')}]`;
      return `${text(name)}:${written}`;
    })
    .join(',')}}`;

describe('samples of RFC 8785', () => {
  test('3.2.2: numbers, strings and literals', () => {
    expect(canonicalize(JSON.parse(SAMPLE))).toBe(WRITTEN);
  });

  test('3.2.3: names in the order of their UTF-16 code units', () => {
    const sample = {
      '\u20ac': 'Euro Sign',
      '\r': 'Carriage Return',
      '\ufb33': 'Hebrew Letter Dalet With Dagesh',
      '1': 'One',
      '\ud83d\ude00': 'Emoji: Grinning Face',
      '\u0080': 'Control',
      '\u00f6': 'Latin Small Letter O With Diaeresis',
    };
    const names = [...canonicalize(sample)!.matchAll(/:"([^"]+)"/g)].map((m) => m[1]);
    expect(names).toEqual([
      'Carriage Return',
      'One',
      'Control',
      'Latin Small Letter O With Diaeresis',
      'Euro Sign',
      'Emoji: Grinning Face',
      'Hebrew Letter Dalet With Dagesh',
    ]);
    expect(plain(sample)).toBe(canonicalize(sample));
  });
});

describe('the text of an event', () => {
  test('has its names in order, no blank, and characters as themselves', () => {
    expect(toLeaf({ ...base, why: 'Łucja said "€ 5", \\ and / — 灯台 \ud83d\udd8b' }).body).toBe(
      '{"at":"2031-03-01T09:30:00.000Z","by":"E. Marrow","edition":"nine-lights","label":"12/90","number":12,' +
        '"series":"main","type":"issued","why":"Łucja said \\"€ 5\\", \\\\ and / — 灯台 \ud83d\udd8b"}',
    );
  });

  test('keeps what looks alike apart: nothing is normalised (3.1)', () => {
    const [composed, apart] = ['\u00e9', 'e\u0301'].map((why) => toLeaf({ ...base, why }));
    expect(composed!.leaf.equals(apart!.leaf)).toBe(false);
  });

  // What a person may have written: whole characters, one line.
  const said = fc
    .string({ unit: 'binary', minLength: 1, maxLength: 60 })
    .map((s) => s.replace(/[\p{Cs}\p{Cc}\p{Zl}\p{Zp}]/gu, ''))
    .filter((s) => /\S/u.test(s) && s.length <= 100);

  test('is that of the package and that of the rules, whatever is told in it', () => {
    fc.assert(
      fc.property(said, said, said, fc.integer({ min: 1, max: 99_999 }), (by, why, label, number) => {
        const event: RegisterEvent = { ...base, by, why, label, number, parts: ['cap', 'barrel'] };
        const { body, leaf } = toLeaf(event);
        expect(body).toBe(canonicalize(event));
        expect(body).toBe(plain(event as unknown as Flat));
        expect(leaf).toEqual(leafHash(body));
        expect(fromLeaf(0, { body, leaf })).toEqual(event);
      }),
      { numRuns: 300 },
    );
  });

  test.each([
    ['a blank after a colon', (body: string) => body.replace('":"', '": "')],
    ['two names exchanged', (body: string) => body.replace(/^\{("at":"[^"]*"),("by":"[^"]*")/, '{$2,$1')],
    ['a letter written by its number', (body: string) => body.replace('Marrow', '\\u004darrow')],
    ['a number with a point', (body: string) => body.replace('"number":12', '"number":12.0')],
    ['a solidus with a stroke before it', (body: string) => body.replace('12/90', '12\\/90')],
    ['a name given twice', (body: string) => body.replace('{', '{"why":"x",')],
  ])('is refused in another form: %s', (_, change) => {
    const body = change(toLeaf(base).body);
    expect(body).not.toBe(toLeaf(base).body);
    const damaged = { code: 'register.damaged-event', values: { fault: 'canonical' } };
    expect(() => fromLeaf(0, { body, leaf: leafHash(body) })).toThrow(
      expect.objectContaining({ problems: [expect.objectContaining(damaged)] }),
    );
  });
});

test('any JSON at all: the package against the rules, over flat values with every kind of character', () => {
  const anyText = fc.string({ unit: 'binary', maxLength: 20 }).filter((s) => !/\p{Surrogate}/u.test(s));
  const value = fc.dictionary(anyText, fc.oneof(anyText, fc.integer(), fc.array(anyText, { maxLength: 4 })), {
    maxKeys: 8,
    noNullPrototype: true,
  });
  fc.assert(
    fc.property(value, (flat) => {
      expect(canonicalize(flat)).toBe(plain(flat as Flat));
    }),
    { numRuns: 500 },
  );
});
