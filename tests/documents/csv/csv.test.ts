import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readCsv } from '../../../src/documents/csv/read-csv.js';
import { formatCsv, formatCsvRow } from '../../../src/documents/csv/write-csv.js';
import { showInvisible } from '../../../src/documents/invisible.js';
import { Refusal } from '../../../src/problem.js';

const columns = { needed: ['label'], known: ['label', 'place', 'part'] };
const read = (text: string | Uint8Array) =>
  readCsv('list.csv', typeof text === 'string' ? Buffer.from(text) : text, columns);
const refused = (text: string | Uint8Array): string => {
  try {
    read(text);
  } catch (error) {
    if (error instanceof Refusal) return error.problems.map((p) => `${p.where} ${p.code}`).join('; ');
    throw error;
  }
  throw new Error('not refused');
};

// RFC 4180, section 2, rules 1 to 7.
describe('a table is read', () => {
  test.each([
    ['label,place\r\n1/90,shelf\r\n', '1, 2 and 4: lines, cells and heading'],
    ['label,place\r\n1/90,shelf', '2: the last line need not end'],
    ['label,place\n1/90,shelf\n', 'line feeds alone'],
    ['label,place\r1/90,shelf\r', 'returns alone'],
    ['"label","place"\r\n"1/90","shelf"\r\n', '5: quotes'],
    ['\ufefflabel,place\r\n1/90,shelf\r\n', 'the mark of UTF-8'],
    ['label;place\r\n1/90;shelf\r\n', 'semicolons'],
    ['label\tplace\r\n1/90\tshelf\r\n', 'tabs'],
    ['Label , PLACE\r\n1/90,shelf\r\n', 'a heading written by hand'],
  ])('%j (%s)', (text) => {
    expect(read(text)).toEqual([{ row: 2, cells: { label: '1/90', place: 'shelf' } }]);
  });

  test('with line ends, separators and quotes between quotes (6 and 7), and counted as a spreadsheet counts', () => {
    expect(read('label,place\r\n"a\r\nb, ""c""",x\r\n\r\nd,\r\n')).toEqual([
      { row: 2, cells: { label: 'a\r\nb, "c"', place: 'x' } },
      { row: 4, cells: { label: 'd', place: '' } },
    ]);
  });

  test('as it was written, whatever the cells', () => {
    const cell = fc
      .string({ unit: 'grapheme', maxLength: 8 })
      // What cannot be seen is written by its number, which has tests of its own.
      .filter((t) => !/^\s*[=+\-@\t\r＝＋－＠]/.test(t) && showInvisible(t) === t);
    fc.assert(
      fc.property(fc.array(fc.tuple(cell, cell), { minLength: 1, maxLength: 5 }), (rows) => {
        const text = ['label,place', ...rows.map(formatCsvRow)].join('\r\n');
        expect(read(text).map(({ cells }) => [cells.label, cells.place])).toEqual(rows);
      }),
    );
  });
});

describe('a table is refused, with its row:', () => {
  test.each([
    ['', /row 1 csv\.column-missing$/],
    ['place\n1', /row 1 csv\.column-missing$/],
    ['label,colour\n1,2', /row 1 csv\.column-unknown/],
    ['label,label\n1,2', /row 1 csv\.column-twice/],
    ['label,place\n1,2\n3\n', /row 3 csv\.cell-count/],
    ['label,place\n1,"2\n3,4\n', /row 2 csv\.quotes/],
    ['label,place\n\n"1,2\n3,4\n', /row 3 csv\.quotes/],
    ['label,place\n1,"2"x\n', /row 2 csv\.quotes/],
    // Section 2, rule 5: a cell that is not between quotes has none in it.
    ['label,place\n1,5" tube\n', /row 2 csv\.quote-in-cell/],
  ])('%j', (text, what) => {
    expect(refused(text)).toMatch(what);
  });

  test('not UTF-8', () => {
    expect(refused(Buffer.from('label\nM\u00f6rk\n', 'latin1'))).toBe('list.csv csv.not-utf8');
    expect(refused(Buffer.from('\ufefflabel\n', 'utf16le'))).toBe('list.csv csv.utf16');
  });
});

// OWASP, "CSV injection": cells that begin =, +, -, @, tab or return; from memory.
test.each([
  ['=1+1', `"'=1+1"`],
  ['+1', `"'+1"`],
  ['-1', `"'-1"`],
  ['@SUM(A1)', `"'@SUM(A1)"`],
  ['\t=1', `"'\t=1"`],
  [' =1', `"' =1"`],
  ['＝1', `"'＝1"`],
  ['a\u202eb', 'a<U+202E>b'],
  ['\u200b=1', '<U+200B>=1'],
  ['say "a", b', '"say ""a"", b"'],
  ['two\nlines', '"two\nlines"'],
  [-5, '-5'],
  [undefined, ''],
])('%j is inert in a cell', (value, cell) => {
  expect(formatCsvRow([value])).toBe(cell);
});

test('rows are written with a line feed between them', () => {
  expect(
    formatCsv([
      ['a', 1],
      ['b', undefined],
    ]),
  ).toBe('a,1\nb,');
});
