import { defineMessages } from '../../problem.js';

const AGAIN = 'Nothing was restored. Export again, or take another copy.';

/** What can be wrong with an exported register. */
export const { table, problem, refuse } = defineMessages({
  'restore.not-an-export': {
    exit: 2,
    message:
      'It is not an exported register, a certificate, a checkpoint or a run sheet that this burin knows.',
    hint: 'Give files as burin wrote them; of a certificate, its JSON file.',
  },
  'restore.cut-short': {
    exit: 3,
    message: 'It was cut short: its last line is missing.',
    hint: AGAIN,
  },
  'restore.checkpoint-among-events': {
    exit: 3,
    message: 'A checkpoint is among the events.',
    hint: AGAIN,
  },
  'restore.other-events': {
    exit: 3,
    message: 'Its last line is for other events: some are missing, changed or out of order.',
    hint: AGAIN,
  },
  'restore.lines-after-end': { exit: 3, message: 'Something follows its last line.', hint: AGAIN },
  'restore.line-unreadable': {
    exit: 3,
    message: 'It is not a line of an exported register.',
    hint: AGAIN,
  },
});
