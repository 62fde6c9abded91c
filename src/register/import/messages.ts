import { defineMessages } from '../../problem.js';

const MEND = 'Correct the row; nothing is entered while a row is wrong.';
const COMPARE = 'Correct the row or leave it out; nothing is entered while a row is wrong.';

/** What can be wrong with a row of an older register. */
export const { table, problem, refuse } = defineMessages({
  'import.no-rows': {
    exit: 2,
    message: 'The file has a heading but no rows.',
    hint: 'Name the right file.',
  },
  'import.series-unknown': {
    exit: 3,
    message: 'The edition has no series "{series}".',
    hint: 'Its series: {known}.',
  },
  'import.number-unreadable': { exit: 3, message: '"{text}" is not a number.', hint: MEND },
  'import.number-excluded': {
    exit: 3,
    message: 'Number {number} is excluded: {why}.',
    hint: 'If a piece has it, remove the exclusion from the edition.',
  },
  'import.number-outside': {
    exit: 3,
    message: 'Number {number} is outside series {series}, which runs from {from} to {to}.',
    hint: MEND,
  },
  'import.label-differs': {
    exit: 3,
    message: 'The edition labels it {label}, not "{text}".',
    hint: MEND,
  },
  'import.label-mistyped': {
    exit: 3,
    message: 'The edition labels it {label}, not "{text}". Near it: {suggestion}.',
    hint: MEND,
  },
  'import.state-unknown': {
    exit: 3,
    message: '"{text}" is not a state.',
    hint: 'Use one of these: {known}.',
  },
  'import.date-unreadable': {
    exit: 3,
    message: '"{text}" is not a date.',
    hint: 'Write dates like 2031-03-01.',
  },
  'import.date-not-in-calendar': { exit: 3, message: 'There is no day {date} in the calendar.', hint: MEND },
  'import.date-in-future': { exit: 3, message: '{date} is in the future.', hint: MEND },
  'import.witness-missing': {
    exit: 3,
    message: 'The state {state} needs a witness of the destruction.',
    hint: 'Name who saw it, other than the one who recorded it.',
  },
  'import.witness-not-wanted': {
    exit: 3,
    message: 'A number in state {state} has no destruction to witness.',
    hint: 'Leave the witness out, or correct the state.',
  },
  'import.witness-is-recorder': {
    exit: 3,
    message: 'The witness is the one who recorded it.',
    hint: 'Name a second person who saw the destruction.',
  },
  'import.witness-like-recorder': {
    exit: 3,
    message: 'The witness "{witness}" reads like "{by}", who recorded it.',
    hint: 'Name a second person who saw the destruction. Two persons with one surname and the same initials write their names in full.',
  },
  'import.to-not-wanted': {
    exit: 3,
    message: 'A number in state {state} was delivered to nobody.',
    hint: 'Leave `to` out, or correct the state.',
  },
  'import.part-unknown': {
    exit: 3,
    message: 'The number is not on a part {part}.',
    hint: 'Its parts: {known}.',
  },
  'import.no-parts': {
    exit: 3,
    message: 'The number is not on a part {part}: no design of the edition numbers a part.',
    hint: 'Leave the part out.',
  },
  'import.state-of-whole': {
    exit: 3,
    message: 'The state {state} is of the whole piece, not of a part.',
    hint: 'Leave the part out, or correct the state.',
  },
  'import.formula': {
    exit: 3,
    message: 'Its {column} begins like a formula: "{text}".',
    hint: 'Begin it with another character. A spreadsheet would run it.',
  },
  'import.invisible': {
    exit: 3,
    message: 'Its {column} holds invisible characters ({characters}).',
    hint: 'Type it again.',
  },
  'import.mixed-scripts': {
    exit: 3,
    message: 'Its {column} mixes Latin and {script} letters in one word ({character}).',
    hint: 'Type it again.',
  },
  'import.control-character': {
    exit: 3,
    message: 'Its {column} holds a line end or another control character.',
    hint: 'Write it on one line.',
  },
  'import.too-long': {
    exit: 3,
    message: 'Its {column} has {length} characters; at most {most} are allowed.',
    hint: 'Shorten it.',
  },
  'import.label-twice': { exit: 3, message: 'Label {label} is in row {row} too.', hint: COMPARE },
  'import.number-twice': {
    exit: 3,
    message: 'Number {number} of series {series} is in row {row} too.',
    hint: COMPARE,
  },
  'import.edition-closed': {
    exit: 3,
    message: 'The edition is closed, and the register does not have this number.',
    hint: 'Leave the row out: nothing is issued in a closed edition.',
  },
  'import.known-otherwise': {
    exit: 3,
    message: 'The register has {label} as number {number} of series {series}.',
    hint: COMPARE,
  },
  'import.already-registered': {
    exit: 3,
    message: 'It is in the register already, {state}.',
    hint: COMPARE,
  },
});
