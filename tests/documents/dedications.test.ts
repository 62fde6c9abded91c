import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Dedication, readDedications } from '../../src/documents/dedications.js';
import { lineOf } from '../words-of.js';

const FILE = 'editions/words.csv';
const bytesOf = (text: string) => new TextEncoder().encode(text);
const read = (text: string | Uint8Array) =>
  readDedications(typeof text === 'string' ? bytesOf(text) : text, FILE);

function rows(text: string): readonly Dedication[] {
  const list = read(text);
  if (!list.ok) throw new Error(list.problems.map(lineOf).join('\n'));
  return list.rows;
}

function faults(text: string | Uint8Array): string[] {
  const list = read(text);
  return list.ok ? [] : list.problems.map(lineOf);
}

/** Names in the spellings of Europe; invented. */
const NAMES = [
  'Żółćisława Świąć',
  'Őrsi Űrmező',
  'Þórgunnur Æðardóttir',
  'Łucja Dvořáčková-Ťuhýk',
  'Øyvor Åsgårdsæther',
  'Ġużeppa Ħal-Żebbuġ',
  'Șerban Țăruș',
  'İğdem Işıkçı',
  'Ņikolajs Ģērķis',
  'Žydrūnė Ąžuolaitė',
  'Máhtte Ŋiŧŧá-Đuođđu',
  'Zoë d’Œuvré, née Ÿ',
  'Jürgen "Jörg" Weiß',
  'Siân ap Gŵyr',
  'Xoán Peñíscola i Col·lell',
  'Ελένη Ψαλτού',
  'Зоряна Їжакевич',
];

describe('a list is read', () => {
  test('with names of all Europe', () => {
    const csv = NAMES.map((name, k) => `${k + 1},"${name.replaceAll('"', '""')}"`);
    expect(rows(`number,text\r\n${csv.join('\r\n')}\r\n`)).toEqual(
      NAMES.map((text, k) => ({ number: k + 1, text, line: k + 2 })),
    );
  });

  test('composed, however it was written', () => {
    for (const name of NAMES) {
      const cell = `"${name.replaceAll('"', '""')}"`;
      expect(rows(`number,text\n1,${cell.normalize('NFD')}\n`)[0]!.text).toBe(name);
    }
  });

  // RFC 4180, section 2: CRLF between records; fields between quotes may hold CRLF, commas and quotes, these doubled.
  test.each([
    ['number,text\r\n7,For Ada\r\n', 'For Ada'],
    ['\ufeffnumber,text\r\n7,For Ada\r\n', 'For Ada'],
    ['text,number\nFor Ada,7', 'For Ada'],
    ['number;text\n7;For Ada\n', 'For Ada'],
    ['number,text\n7,"For Ada, with ""thanks"""\n', 'For Ada, with "thanks"'],
    ['number,text\r\n7,"For Ada\r\nwith thanks"\r\n', 'For Ada\nwith thanks'],
    ['number,text\r7,"For Ada\rwith thanks"\r', 'For Ada\nwith thanks'],
    ['number,text\n 7 ,"  For Ada\t\n\u00a0with thanks \n\n"\n', 'For Ada\nwith thanks'],
    ['number,text\n7,"For Ada\n\nwith thanks"\n', 'For Ada\n\nwith thanks'],
    ['number,text\n7,For Ada / with thanks\n', 'For Ada / with thanks'],
    ['number,text\n7,For Ada\\nwith thanks\n', 'For Ada\\nwith thanks'],
  ])('%j', (csv, text) => {
    expect(rows(csv)).toEqual([{ number: 7, text, line: 2 }]);
  });

  test('with the series of each number, which may be the same in another', () => {
    expect(rows('series,number,text\nmain,7,A\n proofs ,7,B\n')).toEqual([
      { series: 'main', number: 7, text: 'A', line: 2 },
      { series: 'proofs', number: 7, text: 'B', line: 3 },
    ]);
    expect(rows('series,number,text\n,7,A\n,8,B\n')).toEqual([
      { number: 7, text: 'A', line: 2 },
      { number: 8, text: 'B', line: 3 },
    ]);
  });

  test('and rows are counted as a spreadsheet counts them, not as its lines', () => {
    expect(rows('number,text\n1,"A\nB\nC"\n\n2,D\n').map((d) => d.line)).toEqual([2, 4]);
  });

  test('whatever is in it: an answer and no throw, and what is read holds to the rules', () => {
    const cell = fc.oneof(
      fc.string({ unit: 'grapheme', maxLength: 12 }),
      fc.nat(100_100).map(String),
      fc.constantFrom('"', '""', 'a\nb', '\u202e', ''),
    );
    const csv = fc
      .array(fc.tuple(cell, cell), { maxLength: 6 })
      .map((list) => ['number,text', ...list.map((c) => c.join(','))].join('\n'));
    fc.assert(
      fc.property(csv, (text) => {
        const list = read(text);
        if (!list.ok) {
          for (const p of list.problems) expect(p.where).toMatch(/^editions\/words\.csv/);
          return;
        }
        expect(new Set(list.rows.map((d) => d.number)).size).toBe(list.rows.length);
        for (const d of list.rows) {
          expect(Number.isInteger(d.number) && d.number >= 1 && d.number <= 99_999).toBe(true);
          expect(d.text).toBe(d.text.normalize('NFC').trim());
          expect(d.text).not.toMatch(/[\p{Cf}\r\u2028]|(?!\n)\p{Cc}/u);
        }
      }),
    );
  });
});

describe('a list is refused, with the row and the cure:', () => {
  const bell = String.fromCharCode(7);
  test.each([
    ['number,words\n1,A', /row 1: The heading has no column text\. Its columns may be: number, text, series/],
    ['number,text,colour\n1,A,red', /row 1: The column "colour" is not known/],
    ['number,text\n1,A\n1.5,B', /row 3: `1\.5` is not the number of a piece\. Give a whole number/],
    ['number,text\n0,A', /row 2: `0` is not the number/],
    ['number,text\n-3,A', /row 2: `-3` is not the number/],
    ['number,text\n100000,A', /row 2: `100000` is not the number/],
    ['number,text\n1e3,A', /row 2: `1e3` is not the number/],
    ['number,text\nIV,A', /row 2: `IV` is not the number/],
    ['number,text\n１,A', /row 2: `１` is not the number/],
    ['number,text\n1,A\n2,B\n1,C', /row 4: Number 1 is in row 2 already\. Keep one/],
    ['series,number,text\nx,1,A\nx,1,C', /row 3: Number 1 is in row 2 already/],
    ['series,number,text\nmain,1,A\n,1,C', /row 3: This row names no series, but others do\. Name the/],
    ['number,text\n1,', /row 2: This row has no words\. Give the words/],
    ['number,text\n1," \n "', /row 2: This row has no words/],
    [`number,text\n1,A${bell}`, /row 2: .*invisible character \(U\+0007\)/],
    ['number,text\n1,A\tB', /row 2: .*invisible character \(U\+0009\)/],
    ['number,text\n1,A\u202eB', /row 2: .*invisible character \(U\+202E\)/],
    ['number,text\n1,A\u2067B', /row 2: .*invisible character \(U\+2067\)/],
    ['number,text\n1,A\u200bB', /row 2: .*invisible character \(U\+200B\)/],
    ['number,text\n1,A\u00adB', /row 2: .*invisible character \(U\+00AD\)/],
    ['number,text\n1,A\u2028B', /row 2: .*invisible character \(U\+2028\)/],
    ['number,text\n1,A\ufe0f', /row 2: .*invisible character \(U\+FE0F\)/],
    [`number,text\n1,${'å'.repeat(201)}`, /row 2: The words have more than 200 characters\. Shorten/],
    [`number,text\n1,"${'A\n'.repeat(20)}A"`, /row 2: The words have more than 20 rows\. Shorten/],
    ['number,text\n1,"A', /row 2: A quote is not closed/],
    ['number,text\n1,A,B', /row 2: It has 3 cells, and the heading 2/],
    [`number,text\n${'1,A\n'.repeat(100_001)}`, /^editions\/words\.csv: The list has more than 100,000 rows/],
  ])('%.40j', (csv, line) => {
    const found = faults(csv);
    expect(found[0]).toMatch(line);
    expect(found[0]).toMatch(/^editions\/words\.csv/);
    expect(found).toHaveLength(1);
  });

  test('200 characters and 20 rows are let', () => {
    expect(faults(`number,text\n1,${'å'.normalize('NFD').repeat(200)}\n2,"${'A\n'.repeat(19)}A"`)).toEqual(
      [],
    );
  });

  test('every row at once, up to fifty', () => {
    expect(faults('number,text\nx,A\ny,B\n3,\n')).toEqual([
      expect.stringMatching(/row 2: `x` is not/),
      expect.stringMatching(/row 3: `y` is not/),
      expect.stringMatching(/row 4: This row has no words/),
    ]);
    expect(faults(`number,text\n${'x,A\n'.repeat(80)}`)).toHaveLength(50);
  });
});

// The Unicode Standard, section 3.9, table 3-7: well-formed byte sequences of UTF-8.
describe('bytes that are not UTF-8 are named by their place', () => {
  const head = 'number,text\n1,';
  test.each([
    ['Latin-1', [0xe5], 0],
    ['a byte that follows nothing', [0x41, 0x80], 1],
    ['an overlong form', [0x41, 0xc3, 0xa5, 0xc0, 0xaf], 3],
    ['a surrogate', [0xed, 0xa0, 0x80], 0],
    ['a sequence cut short', [0x41, 0xe2, 0x82], 1],
    ['a sequence that begins as the sign for what cannot be read', [0x41, 0xef, 0xbf], 1],
    ['such a one, and a letter', [0x41, 0xef, 0x41], 1],
    ['a bad byte after that sign itself', [0xef, 0xbf, 0xbd, 0xff], 3],
  ])('%s', (_, bytes, at) => {
    const list = Uint8Array.of(...bytesOf(head), ...bytes);
    const byte = head.length + at + 1;
    expect(faults(list)).toEqual([
      `${FILE}: It is not UTF-8 text: byte ${byte}, in line 2. Save it as CSV in UTF-8.`,
    ]);
  });

  test('UTF-16', () => {
    expect(faults(new Uint8Array(Buffer.from('\ufeffnumber,text\n1,A', 'utf16le')))[0]).toMatch(/UTF-16/);
  });
});
