import { defineMessages } from '../../problem.js';

/** What a count of the shelves can find. `docs/audit.md` explains each code and what to do. */
export const { table, problem, refuse } = defineMessages({
  'stocktake.near-miss': {
    exit: 1,
    message: '"{text}" is not a label of the edition. Near it: {suggestions}.',
    hint: 'Look at the piece again, with a magnifier.',
  },
  'stocktake.excluded': {
    exit: 1,
    message: '{label} is number {number} of series {series}, which is excluded: {why}.',
    hint: 'No piece may have this label. Find out where the piece comes from.',
  },
  'stocktake.unexpected': {
    exit: 1,
    message: '"{text}" is not a label of the edition.',
    hint: 'Put the piece aside, and find out where it comes from.',
  },
  'stocktake.unexpected-invisible': {
    exit: 1,
    message: '"{text}" is not a label of the edition; it holds invisible characters ({characters}).',
    hint: 'Type the list again, or put the piece aside and find out where it comes from.',
  },
  'stocktake.unexpected-mixed-scripts': {
    exit: 1,
    message:
      '"{text}" is not a label of the edition; it mixes Latin and {script} letters in one word ({character}).',
    hint: 'Type the list again, or put the piece aside and find out where it comes from.',
  },
  'stocktake.double': {
    exit: 1,
    message: '{label} was seen before, in row {row}.',
    hint: 'Fetch both. Either the list counts one piece twice, or two pieces have one number.',
  },
  'stocktake.not-issued': {
    exit: 1,
    message: '{label} was seen, but the register has not issued it.',
    hint: 'Find out who made it, and issue nothing under its label.',
  },
  'stocktake.destroyed': {
    exit: 1,
    message: '{label} was seen, but the register says that it was destroyed.',
    hint: 'Ask the witness; a number must not be on two pieces.',
  },
  'stocktake.part-destroyed': {
    exit: 1,
    message: 'The {part} of {label} was seen, but the register says that it was destroyed.',
    hint: 'Ask the witness; a number must not be on two pieces.',
  },
  'stocktake.void': {
    exit: 1,
    message: '{label} was seen, but the register says that it is void.',
    hint: 'No piece may have this label. Find out where the piece comes from.',
  },
  'stocktake.was-missing': {
    exit: 1,
    message: '{label} was seen, but the register says that it is {state}.',
    hint: 'Read the number again. If it is the piece, record it found.',
  },
  'stocktake.delivered': {
    exit: 1,
    message: '{label} is on the shelf, but the register says that it was delivered.',
    hint: 'Record what came back, or find the other piece.',
  },
  'stocktake.part-unknown': {
    exit: 1,
    message: '{label} has no part {part} with its number.',
    hint: 'Correct the list, or look at the part again.',
  },
  'stocktake.missing': {
    exit: 1,
    message: '{label} is {state} and was not seen.',
    hint: 'Search for it; record nothing until it is found or known to be lost.',
  },
});
