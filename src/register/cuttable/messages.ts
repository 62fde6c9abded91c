import { defineMessages } from '../../problem.js';

const HAS_ITS_NUMBER = 'For a second piece, record scrapped, destroyed and recut first.';

/** Why numbers are not cut now. `n` counts the labels; a long list ends with how many more there are. */
export const { table, problem, refuse } = defineMessages({
  'cuttable.not-issued': {
    exit: 3,
    message: '{labels}{n, plural, one { is} other { are}} not issued.',
    hint: 'Issue numbers with `burin issue` before cutting them.',
  },
  'cuttable.withheld': {
    exit: 3,
    message: '{labels}{n, plural, one { is} other { are}} withheld.',
    hint: 'Record them released first, or leave them out.',
  },
  'cuttable.engraved': {
    exit: 3,
    message: '{labels}{n, plural, one { is} other { are}} already engraved.',
    hint: HAS_ITS_NUMBER,
  },
  'cuttable.inspected': {
    exit: 3,
    message: '{labels}{n, plural, one { is} other { are}} already engraved and inspected.',
    hint: HAS_ITS_NUMBER,
  },
  'cuttable.delivered': {
    exit: 3,
    message: '{labels}{n, plural, one { is} other { are}} already engraved and delivered.',
    hint: HAS_ITS_NUMBER,
  },
  'cuttable.scrapped': {
    exit: 3,
    message: '{labels}{n, plural, one { is} other { are}} scrapped.',
    hint: 'Record them destroyed, with a witness, and recut first.',
  },
  'cuttable.destroyed': {
    exit: 3,
    message: '{labels}{n, plural, one { is} other { are}} destroyed.',
    hint: 'Record them recut first: that opens the second piece.',
  },
  'cuttable.lost': {
    exit: 3,
    message: '{labels}{n, plural, one { is} other { are}} lost.',
    hint: 'Once a piece is back, record it found first.',
  },
  'cuttable.stolen': {
    exit: 3,
    message: '{labels}{n, plural, one { is} other { are}} stolen.',
    hint: 'Once a piece is back, record it found first.',
  },
  'cuttable.part-unknown': {
    exit: 2,
    message: 'The edition cuts nothing on {parts}.',
    hint: 'Its parts are: {known}.',
  },
  'cuttable.part-not-blank': {
    exit: 3,
    message: 'Part {part} of {labels} is {state}, not blank.',
    hint: 'Leave it out. For another such part, record this one scrapped, destroyed with a witness, and recut first.',
  },
  'cuttable.parts-not-named': {
    exit: 3,
    message:
      '{labels} had a part spoiled. {parts} does not have the number, so the register does not know whether it was cut already.',
    hint: 'Name the parts to be cut now with --parts.',
  },
  'cuttable.void': {
    exit: 3,
    message: '{labels}{n, plural, one { is} other { are}} void.',
    hint: 'Leave them out; a void number is never cut.',
  },
});
