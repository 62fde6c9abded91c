import { defineMessages } from '../../problem.js';

const AS_UTF8 = 'Save it as CSV in UTF-8.';
const COLUMNS = 'Its columns may be: {known}.';

export const { table, problem, refuse } = defineMessages({
  'csv.too-large': {
    exit: 2,
    message: 'The file has more than {most} MB, too much for such a list.',
    hint: 'Name the right file.',
  },
  'csv.utf16': { exit: 2, message: 'It is UTF-16 text.', hint: AS_UTF8 },
  'csv.not-utf8': {
    exit: 2,
    message: 'It is not UTF-8 text: byte {byte}, in line {line}.',
    hint: AS_UTF8,
  },
  'csv.column-missing': {
    exit: 2,
    message: 'The heading has no column {names}.',
    hint: COLUMNS,
  },
  'csv.column-twice': { exit: 2, message: 'The column {name} is there twice.', hint: COLUMNS },
  'csv.column-unknown': { exit: 2, message: 'The column "{name}" is not known.', hint: COLUMNS },
  'csv.cell-count': {
    exit: 2,
    message: 'It has {cells, plural, one {# cell} other {# cells}}, and the heading {columns}.',
    hint: 'Put text that holds a comma or a quote between quotes.',
  },
  'csv.quote-in-cell': {
    exit: 2,
    message: 'A quote is in a cell that is not between quotes.',
    hint: 'Put the cell between quotes, and write each quote in it twice.',
  },
  'csv.quotes': {
    exit: 2,
    message: 'A quote is not closed, or text follows the closing quote.',
    hint: 'Write a quote within quotes twice.',
  },
});
