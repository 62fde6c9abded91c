import { defineMessages } from '../problem.js';

const AS_LISTED = 'Write labels as `burin register` lists them, or give the ticket.';
const RETYPE = 'Read the ticket on the tray again, or give the label.';
const SELECTION = 'Write numbers and ranges like 1-5,9.';

export const { table, problem, refuse } = defineMessages({
  // terms of an edition
  'edition.same-label': {
    exit: 2,
    message: 'Series {one} and series {other} both give the label {label}.',
    hint: 'Tell them apart with `before`, `after`, `total` or `figures` in {one} or {other}.',
  },
  'edition.labels-read-alike': {
    exit: 2,
    message:
      'Series {one} gives the label {label} and series {other} gives {otherLabel}, which read the same.',
    hint: 'Tell them apart with `before`, `after`, `total` or `figures` in {one} or {other}.',
  },
  'edition.not-a-piece-number': {
    exit: 2,
    message: '{number} cannot be the number of a piece.',
    hint: 'Give a whole number from 1.',
  },
  'edition.roman-too-large': {
    exit: 2,
    message: 'Roman numerals end at {most}.',
    hint: 'Use arabic numerals, or end the series (and its stated total) there.',
  },
  'edition.proofs-unusual': {
    exit: 1,
    message:
      '{proofs, plural, one {# proof} other {# proofs}} to {pieces, plural, one {# numbered piece} other {# numbered pieces}} is {percent} %; 5 to 10 % is customary.',
    hint: 'If it is meant, keep it and say so in the papers of the edition.',
  },
  'edition.total-not-planned': {
    exit: 1,
    message:
      'The labels state {total}, and {planned, plural, one {# number is} other {# numbers are}} planned.',
    hint: 'Say in the papers of the edition which numbers do not exist, or state another total.',
  },
  'edition.name-reads-alike': {
    exit: 1,
    message: 'The name "{name}" can be read as "{other}", which is edition {holder}.',
    hint: 'Two such names are taken for one edition, and the register opens only the first. Use a name that nobody takes for another.',
  },
  // selections of numbers
  'edition.range-two-series': {
    exit: 2,
    message: 'The range {text} begins in series {first} and ends in series {last}.',
    hint: 'Give a range of each series.',
  },
  'edition.range-backwards': {
    exit: 2,
    message: 'The range {text} runs backwards.',
    hint: 'Give the lower number first.',
  },
  'edition.selection-empty': { exit: 2, message: 'No number is given.', hint: SELECTION },
  'edition.selection-too-long': {
    exit: 2,
    message: 'The selection is too long.',
    hint: 'Ask for fewer numbers at once.',
  },
  'edition.selection-comma': { exit: 2, message: 'A comma has no number beside it.', hint: SELECTION },
  'edition.selection-not-number': { exit: 2, message: '"{text}" is not a number.', hint: SELECTION },
  'edition.selection-below-one': {
    exit: 2,
    message: '"{text}" names a number below 1.',
    hint: 'Begin at 1.',
  },
  'edition.selection-backwards': {
    exit: 2,
    message: '"{text}" runs backwards.',
    hint: 'Give the lower number first.',
  },
  'edition.selection-too-high': {
    exit: 2,
    message: '"{text}" goes beyond {most}.',
    hint: 'No series runs beyond {most}.',
  },
  'edition.series-unknown': {
    exit: 2,
    message: 'The edition has no series {series}.',
    hint: 'Use one of these: {known}.',
  },
  'edition.series-not-named': {
    exit: 2,
    message: 'No series is named.',
    hint: 'Add --series and the id of one.',
  },
  'edition.no-piece-named': {
    exit: 2,
    message: 'No piece is named.',
    hint: 'Give --labels, or --series and --numbers.',
  },
  'edition.numbers-not-in-series': {
    exit: 2,
    message: '{numbers}{n, plural, one { is} other { are}} not in series {series}.',
    hint: 'Ask only for numbers of the series.',
  },
  'edition.numbers-excluded': {
    exit: 2,
    message:
      '{n, plural, one {Number {numbers} of series {series} is} other {Numbers {numbers} of series {series} are}} excluded: {why}.',
    hint: '{n, plural, one {No piece has it} other {No pieces have them}}; ask for planned numbers.',
  },
  // labels that someone gives
  'edition.label-unknown': { exit: 2, message: 'The edition has no label "{text}".', hint: AS_LISTED },
  'edition.label-mistyped': {
    exit: 2,
    message: 'The edition has no label "{text}".',
    hint: 'Did you mean {suggestions}?',
  },
  'edition.label-excluded': {
    exit: 2,
    message: 'Number {number} of series {series}, label {label}, is excluded: {why}.',
    hint: 'No piece has it; give the label of a planned number.',
  },
  'edition.label-mistyped-excluded': {
    exit: 2,
    message:
      'The edition has no label "{text}". That is probably {label} ({reason}), and number {number} of series {series} is excluded: {why}.',
    hint: 'No piece has it; give the label of a planned number.',
  },
  'edition.label-outside-series': {
    exit: 2,
    message:
      'The edition has no label "{text}": series {series} runs from {from} to {to}, and {number} is outside.',
    hint: AS_LISTED,
  },
  // tickets
  'edition.not-a-ticket': {
    exit: 2,
    message: 'This is not a ticket.',
    hint: 'A ticket of this edition begins with {initials}-.',
  },
  'edition.ticket-letter': {
    exit: 2,
    message: 'The number {digits} holds a letter: O for 0, or I for 1.',
    hint: RETYPE,
  },
  'edition.ticket-check': {
    exit: 2,
    message: 'The check character does not match: a character is wrong, or two are swapped.',
    hint: RETYPE,
  },
  'edition.ticket-of-other-edition': {
    exit: 2,
    message: 'The ticket is of another edition: {initials}.',
    hint: 'Name its edition, or take a ticket of {edition}.',
  },
  'edition.ticket-not-planned': {
    exit: 2,
    message: 'Edition {edition} does not plan this number.',
    hint: RETYPE,
  },
  'edition.ticket-excluded': {
    exit: 2,
    message: 'Number {number} of series {series}, label {label}, is excluded: {why}.',
    hint: 'No piece has it; give the ticket of a planned number.',
  },
  'edition.ticket-padding': {
    exit: 2,
    message: 'The number of a ticket has four digits.',
    hint: 'Did you mean {ticket}?',
  },
});
