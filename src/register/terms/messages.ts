import { defineMessages } from '../../problem.js';

export const { table, problem, refuse } = defineMessages({
  'terms.differ': {
    exit: 3,
    message: '{what} is {now} in the documents, and {before} in the register.',
    hint: 'Put the documents back, or enter the change if it is meant: `burin amend {edition} --by NAME --why REASON`.',
  },
  'terms.name-taken': {
    exit: 3,
    message:
      'The name "{name}" reads like "{taken}", by which the register knows edition {holder} (event {since}).',
    hint: 'If this is that edition, name the document editions/{holder}.yaml again. An edition of its own needs a name that nobody takes for another: in other words, not only in other letters or signs.',
  },
  'terms.name-of-another': {
    exit: 3,
    message:
      'Event {entry} gave this edition the name "{name}", which reads like "{taken}": edition {holder} has had that since event {since}.',
    hint: 'burin does not enter such a name. Look into who did, and go on past it: `burin resume {entry}` (docs/resume.md).',
  },
  'terms.label-changes': {
    exit: 3,
    message: 'Number {number} of series {series} exists as {label}; on these terms it would be {now}.',
    hint: 'A label that exists does not change. Put the document back.',
  },
  'terms.label-goes': {
    exit: 3,
    message:
      'Number {number} of series {series} exists as {label}; these terms {reason, select, series {have no such series} range {end before it or begin after it} other {exclude it}}.',
    hint: 'A number that exists stays in its series. Put the document back.',
  },
  'terms.not-opened': {
    exit: 3,
    message: 'The register has no terms of this edition yet.',
    hint: 'There is nothing to amend. The terms are entered with its first number, as the documents then say.',
  },
  'terms.opened-before': {
    exit: 3,
    message: 'The terms of this edition were entered meanwhile.',
    hint: 'Ask again.',
  },
  'terms.nothing-to-amend': {
    exit: 2,
    message: 'The documents agree with the register.',
    hint: 'Change the document first, then amend.',
  },
  'terms.closed': {
    exit: 3,
    message: 'The edition is closed, and its terms cannot change any more.',
    hint: 'Put the documents back.',
  },
  'terms.not-on-terms': {
    exit: 3,
    message: '{label} is not what the terms of this edition make of number {number} of series {series}.',
    hint: 'Put the documents back to what they were, or amend the terms.',
  },
});
