import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type ProgramHead, writeProgram } from '../../src/station/program.js';
import { readProgram } from '../../src/station/reader.js';
import { remarkWords } from '../../src/station/remark.js';
import { blockOf, cap, figure, head, prepared, runOn, stationOf } from './lantern-coast.js';
import { plainly } from './plain-parser.js';

const run = runOn(cap, stationOf());
const plain = writeProgram(run, head, [prepared(run, blockOf(figure))]).text;
const notRemarks = (text: string) => text.split('\n').filter((line) => !line.startsWith('('));

const hostile = [
  ')',
  'a)\nG0 Z-50.',
  '\nM30\n',
  '\r\nG28',
  '%',
  '; G0 Z-9',
  '(nested (twice))',
  '<script>alert(1)</script>',
  '=1+1',
  '../../etc/passwd',
  'MSG, stop',
  '\u202egnirts',
  '\u0000\u0007',
  'Édition № 9 – Ægir’s lamp × 2',
  '灯台',
  '\ud800',
  '🔥',
  '',
  '   ',
  'x'.repeat(500),
  'ﷺ'.repeat(500),
];

describe('words in comments', () => {
  test.each(hostile)('%j is inert in every place', (words) => {
    const heads: ProgramHead = {
      edition: words,
      label: words,
      digest: words,
      part: words,
      surface: words,
      cutter: words,
      setup: words,
      documents: words,
    };
    const text = writeProgram(run, heads, [
      prepared(run, blockOf(figure, { mark: words, name: words })),
    ]).text;
    expect(notRemarks(text)).toEqual(notRemarks(plain));
    expect(plainly(text).comments).toHaveLength(9);
    expect(readProgram(text).ok).toBe(true);
  });

  test('any string at all', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 300 }), (words) => {
        expect(remarkWords(words)).toMatch(
          /^[A-Za-z0-9.,\-_/#:]([A-Za-z0-9 .,\-_/#:]{0,198}[A-Za-z0-9.,\-_/#:])?$/,
        );
      }),
      { seed: 90 },
    );
  });

  test('letters keep their sound', () => {
    expect(remarkWords('Édition № 9 – Ægir × 2')).toBe('Edition No 9 - AEgir x 2');
    expect(remarkWords('12/90')).toBe('12/90');
    expect(remarkWords('A.P. XVIII')).toBe('A.P. XVIII');
    expect(remarkWords('')).toBe('_');
  });
});
