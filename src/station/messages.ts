import { defineMessages } from '../problem.js';

const CUT_AGAIN =
  'Nothing is put in place. See whether another program writes there or the disk fails; then cut again.';

export const { table, problem, refuse } = defineMessages({
  'station.read-back-differs': {
    exit: 1,
    message: 'Read-back finds a difference that it does not name.',
    hint: 'Do not run it; write the program again.',
  },
  'station.block-not-alone': {
    exit: 1,
    message: 'The program of one block reads as {count, plural, one {# cut} other {# cuts}}.',
    hint: 'Do not run it; write the program again.',
  },
  'station.block-changes-state': {
    exit: 1,
    message: 'The block leaves other settings or another Z than it began with.',
    hint: 'Do not run it; write the program again.',
  },
  'station.block-starts-anywhere': {
    exit: 1,
    message: 'The first move of the block does not name both X and A.',
    hint: 'Do not run it; write the program again.',
  },
  'station.spindle-left-turning': {
    exit: 1,
    message: 'M5 does not stop the spindle before the end.',
    hint: 'Write the program again.',
  },
  'station.file-head-differs': {
    exit: 1,
    message: 'The file on disk names the {key} `{found}`, and it is written for `{expected}`.',
    hint: CUT_AGAIN,
  },
  'station.file-head-unreadable': {
    exit: 1,
    message: 'The file on disk does not begin with the seven comment lines that say what it is.',
    hint: CUT_AGAIN,
  },
  'station.file-opening-differs': {
    exit: 1,
    message: 'The lines before the first cut on disk are not those under which its blocks were proved.',
    hint: CUT_AGAIN,
  },
  'station.file-block-differs': {
    exit: 1,
    message: 'Block {index} on disk is not the one that was proved for this place ({name}).',
    hint: CUT_AGAIN,
  },
  'station.file-closing-differs': {
    exit: 1,
    message: 'The lines after the last cut on disk are not those under which its blocks were proved.',
    hint: CUT_AGAIN,
  },
});
