import { defineMessages } from '../../problem.js';

export const { table, problem, refuse } = defineMessages({
  'terms.differ': {
    exit: 3,
    message: '{what} is {now} in the documents, and {before} in the register.',
    hint: 'Put the documents back, or enter the change if it is meant: `burin amend {edition} --by NAME --why REASON`.',
  },
  'terms.name-taken': {
    exit: 3,
    message: 'The register has {taken} already, as edition {holder}.',
    hint: 'Rename this document back to editions/{holder}.yaml, or give an edition of its own a name of its own.',
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
