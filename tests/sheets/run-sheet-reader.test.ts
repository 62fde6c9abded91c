import { expect, test } from 'vitest';
import { escapeAttribute, escapeContent } from '../../src/sheets/display-text.js';
import { readRunSheet } from '../../src/sheets/run-sheet-reader.js';

const sheetOf = (edition: string, labels: readonly string[]): string =>
  [
    '<!DOCTYPE html>\n<html lang="en">\n<head>',
    `<title>Run sheet: ${escapeContent(edition)}, job</title>\n</head>\n<body>`,
    `<h1>${escapeContent(edition)}</h1>`,
    `<tr class="again"><th scope="colgroup" colspan="5">job, ${labels.length} pieces in this order</th></tr>`,
    ...labels.map(
      (label) =>
        `<tr data-label="${escapeAttribute(label)}"><td class="done"></td><th>${escapeContent(label)}</th></tr>`,
    ),
    '</body>\n</html>\n',
  ].join('\n');

test('labels come back as they are, however they are written in HTML, each once', () => {
  const labels = ['01/90', 'II/IX', '<3 & "4"', "o'5", 'a\u202eb', '01/90'];
  expect(readRunSheet(sheetOf('Day & <Night>', labels))).toEqual({
    edition: 'Day & <Night>',
    labels: [...new Set(labels)],
    ...{ rows: labels.length, listed: labels.length },
  });
});

test('another page, and one that was cut short, is none', () => {
  expect(readRunSheet(sheetOf('x', ['1']).replace('Run sheet', 'Proof'))).toBeUndefined();
  expect(readRunSheet(sheetOf('x', ['1']).slice(0, -10))).toBeUndefined();
  expect(readRunSheet('{}')).toBeUndefined();
});
