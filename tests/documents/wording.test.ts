import { createHash } from 'node:crypto';
import { describe, expect, test } from 'vitest';
import { digestOf } from '../../src/documents/digest.js';
import { editDistance, nearest } from '../../src/documents/nearest.js';
import { plainText, quote } from '../../src/documents/quote.js';
import { pathText } from '../../src/documents/source-places.js';
import { parseYaml } from '../../src/documents/yaml.js';

/** YAML 1.2.2, section 10.3.2, "Tag Resolution" of the core schema, and the example under it. */
describe('plain values are read by the core schema of YAML 1.2.2', () => {
  const table: [written: string, value: unknown][] = [
    ['null', null],
    ['~', null],
    ['', null],
    ['true', true],
    ['False', false],
    ['0', 0],
    ['0o7', 7],
    ['0x3A', 58],
    ['-19', -19],
    ['0.', 0],
    ['-0.0', -0],
    ['.5', 0.5],
    ['+12e03', 12000],
    ['-2E+05', -200000],
    ['.inf', Number.POSITIVE_INFINITY],
    ['-.Inf', Number.NEGATIVE_INFINITY],
    ['.NAN', Number.NaN],
    // what YAML 1.1 read otherwise and 1.2 does not
    ['yes', 'yes'],
    ['off', 'off'],
    ['1_000', '1_000'],
    ['010', 10],
    ['190:20:30', '190:20:30'],
    ['2001-12-14', '2001-12-14'],
  ];
  test.each(table)('%s', (written, value) => {
    expect(parseYaml('x.yaml', `a: ${written}\n`).tree?.value).toEqual({ a: value });
  });
});

/** RFC 8785, section 3.2.2 (the sample object) and section 3.2.3 (order of keys by UTF-16 code units). */
describe('a digest is SHA-256 of the canonical JSON of RFC 8785', () => {
  const sha256 = (text: string): string => createHash('sha256').update(text, 'utf8').digest('hex');
  test('sample object', () => {
    const sample: unknown = JSON.parse(
      String.raw`{"numbers":[333333333.33333329,1E30,4.50,2e-3,0.000000000000000000000000001],"string":"\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\/","literals":[null,true,false]}`,
    );
    const canonical = String.raw`{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],"string":"€$\u000f\nA'B\"\\\\\"/"}`;
    expect(digestOf(sample)).toBe(sha256(canonical));
  });
  test('order of keys', () => {
    const keys = ['\u20ac', '\r', '\ufb33', '1', '\ud83d\ude00', '\u0080', '\u00f6'];
    const sorted = ['\r', '1', '\u0080', '\u00f6', '\u20ac', '\ud83d\ude00', '\ufb33'];
    const canonical = `{${sorted.map((key) => `${JSON.stringify(key)}:0`).join(',')}}`;
    expect(digestOf(Object.fromEntries(keys.map((key) => [key, 0])))).toBe(sha256(canonical));
  });
});

/** Usual examples of the Levenshtein and the restricted Damerau-Levenshtein distance, from memory. */
test.each([
  ['kitten', 'sitting', 3],
  ['saturday', 'sunday', 3],
  ['ca', 'abc', 3],
  ['rign', 'ring', 1],
  ['', 'abc', 3],
  ['same', 'same', 0],
])('from %s to %s is %i', (a, b, distance) => {
  expect(editDistance(a, b)).toBe(distance);
  expect(editDistance(b, a)).toBe(distance);
});

test('a word with nothing near it is given no neighbour', () => {
  expect(nearest('colour', ['kind', 'wall', 'profile'])).toBeUndefined();
  expect(nearest('clearence', ['kind', 'clearance'])).toBe('clearance');
  expect(nearest('k'.repeat(100_000), ['kind'])).toBeUndefined();
});

test('quoted text is cut by whole characters and cannot move the cursor', () => {
  expect(Array.from(plainText('🖋'.repeat(500)))).toHaveLength(60);
  expect(plainText('🖋'.repeat(500))).not.toMatch(/\p{Cs}/u);
  expect(quote('a\u001b[2J\n\u202eb')).toBe('`a\ufffd[2J\ufffd\ufffdb`');
});

test('a path is written as people point at it', () => {
  expect(pathText(['keepouts', 1, 'to'])).toBe('keepouts[1].to');
  expect(pathText(['fonts', 'My Font'])).toBe('fonts[`My Font`]');
  expect(pathText([])).toBe('');
});
