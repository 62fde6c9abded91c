import { defineMessages } from '../problem.js';

const CUT_AGAIN =
  'Nothing was put in place. Check whether another program writes there or the disk fails, then cut again.';

const WRITE_AGAIN = 'Do not run it. Write the program again with `burin cut`.';
const COPY_AGAIN =
  'Do not run it. Copy the file again as it was written, byte for byte, or write it again with `burin cut`.';

export const { table, problem, refuse } = defineMessages({
  'station.read-back-differs': {
    exit: 1,
    message: 'The program differs from the layout in a way that read-back cannot name.',
    hint: 'Do not run it; write the program again.',
  },
  'station.block-not-alone': {
    exit: 1,
    message: 'The program of one block reads as {count, plural, one {# cut} other {# cuts}}.',
    hint: 'Do not run it; write the program again.',
  },
  'station.block-changes-state': {
    exit: 1,
    message: 'The block ends with other settings, or at another Z, than it began with.',
    hint: 'Do not run it; write the program again.',
  },
  'station.block-starts-anywhere': {
    exit: 1,
    message: 'The first move of the block does not name both X and A.',
    hint: 'Do not run it; write the program again.',
  },
  'station.spindle-left-turning': {
    exit: 1,
    message: 'No M5 stops the spindle before the end.',
    hint: 'Write the program again.',
  },
  'station.file-head-differs': {
    exit: 1,
    message: 'The file on disk names the {key} `{found}`, but it was written for `{expected}`.',
    hint: CUT_AGAIN,
  },
  'station.file-head-unreadable': {
    exit: 1,
    message: 'The file on disk does not begin with the eight comment lines that say what it is.',
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
  'station.block-angle': {
    exit: 1,
    message: 'The angle of the block is {angle}.',
    hint: 'Give the mark a finite angle.',
  },
  'station.block-without-lines': {
    exit: 1,
    message: 'The block has no lines to cut.',
    hint: 'Give it a line, or leave it out.',
  },
  'station.line-too-few-points': {
    exit: 1,
    message: 'A line has {points, plural, one {# point} other {# points}}.',
    hint: 'Give the line two points or more.',
  },
  'station.point-not-finite': {
    exit: 1,
    message: 'A line has a point that is not a finite number.',
    hint: 'Correct the artwork.',
  },
  'station.line-depth': {
    exit: 1,
    message: 'A line has a depth that is not from 0 to {depth} mm.',
    hint: 'Correct the depths of the line.',
  },
  'station.block-depth': {
    exit: 1,
    message: 'The depth of the block is {depth} mm.',
    hint: 'Give a depth above 0.',
  },
  'station.block-passes': {
    exit: 1,
    message: 'The passes [{passes}] do not go down step by step to {depth} mm.',
    hint: 'Make each pass deeper than the one before, and the last the full depth.',
  },
  'station.line-behind-apex': {
    exit: 1,
    message: 'A line runs round the far side of the sheet.',
    hint: 'Make the mark smaller.',
  },
  'station.past-edge': {
    exit: 1,
    message: 'The block hangs {over} mm over the edge of surface {surface}.',
    hint: 'Move the mark, or make it smaller.',
  },
  'station.travel-past-limit': {
    exit: 1,
    message: '{axis} would go to {to} {unit}, {over} past its `{bound}` {limit}.',
    hint: 'Move the mark, or mount the part elsewhere and give the station the new offset.',
  },
  'station.axis-too-slow': {
    exit: 1,
    message: 'A feed of {feed} mm/min needs {asked} {unit} of {axis}, {over} above its limit.',
    hint: 'Feed at {largest} mm/min or less.',
  },
  'station.too-many-moves': {
    exit: 1,
    message:
      'The block takes more than {most, number} moves in {passes, plural, one {# pass} other {# passes}}.',
    hint: 'Make the drawing simpler, cut it in parts, or take a wider cutter or fewer passes.',
  },
  'station.program-too-long': {
    exit: 1,
    message: 'The program is longer than {most, number} bytes.',
    hint: 'Cut fewer marks with this cutter, take fewer passes, or make the drawings simpler.',
  },
  'station.beam-not-supported': {
    exit: 1,
    message: 'Programs for a beam cannot be written yet.',
    hint: 'Use a drag cutter or a turning cutter.',
  },
  'station.rate-not-positive': {
    exit: 1,
    message: 'The {rate} is {value}.',
    hint: 'Give a number above 0.',
  },
  'station.tilted-from-axis': {
    exit: 1,
    message: 'On a tilted set-up, the axis of the part has no single height that could be Z 0.',
    hint: 'Write `zero: touch`.',
  },
  'station.approach-above-safe': {
    exit: 1,
    message: '`approach` {approach} mm is above `safe` {safe} mm.',
    hint: 'Raise `safe`.',
  },
  'station.limits-reversed': {
    exit: 1,
    message: '{axis} has `min` {min}, which is not below its `max` {max}.',
    hint: 'Give a `min` below `max`.',
  },
  'station.plunge-too-fast': {
    exit: 1,
    message: 'The plunge feed {plunge} mm/min is faster than Z, {speed} mm/min.',
    hint: 'Plunge at {largest} mm/min or less.',
  },
  'station.decimals-too-few': {
    exit: 1,
    message:
      '{decimals, plural, one {# decimal} other {# decimals}} cannot keep the path within {tolerance} mm here.',
    hint: 'Give `decimals: 4` or more.',
  },
  'station.safe-height-past-max': {
    exit: 1,
    message: 'The safe height Z {safe} on surface {surface} is {over} mm past the `max` {limit} of Z.',
    hint: 'Lower `safe`, or mount the part lower.',
  },
  'station.word-not-provable': {
    exit: 1,
    message: 'No program with the word `{word}` can be proved.',
    hint: 'Remove it. `docs/programs.md` lists the words that are allowed.',
  },
  'station.still-cutter-turned': {
    exit: 1,
    message: '`{line}` leaves the spindle turning, but this cutter is dragged: its point would break.',
    hint: 'Remove `M3` from `before`; burin itself starts the spindle for cutters that turn. If the station needs it for them, write a second station document for cutters that are dragged.',
  },
  'station.frame-refused': {
    exit: 1,
    message: '{why}',
    hint: "Change the `before` and `after` lines of the station's document. `docs/programs.md` lists the words that are allowed.",
  },
  'station.read-empty': {
    exit: 1,
    message: 'The file is empty.',
    hint: COPY_AGAIN,
  },
  'station.read-byte-order-mark': {
    exit: 1,
    message: 'The file begins with a byte order mark, which a control may not read.',
    hint: COPY_AGAIN,
  },
  'station.read-carriage-return': {
    exit: 1,
    message: 'A carriage return stands here without a line feed after it.',
    hint: COPY_AGAIN,
  },
  'station.read-wide-characters': {
    exit: 1,
    message: 'The text is not in plain ASCII: it holds zero bytes, as in two-byte characters.',
    hint: COPY_AGAIN,
  },
  'station.read-no-last-line-feed': {
    exit: 1,
    message: 'The last line does not end in a line feed: the file may be cut short.',
    hint: COPY_AGAIN,
  },
  'station.read-head-line': {
    exit: 1,
    message: 'The head has no `({key}: ...)` here.',
    hint: WRITE_AGAIN,
  },
  'station.read-head-old': {
    exit: 1,
    message:
      'The head has no `({key}: ...)` line here. An earlier burin wrote such programs, which do not say from which part, material, cutter and station they were made.',
    hint: 'Do not run it. Cut the piece again with `burin cut`.',
  },
  'station.read-head-again': {
    exit: 1,
    message: 'The head has a second `({key}: ...)` here: two programs may have come together.',
    hint: WRITE_AGAIN,
  },
  'station.read-after-end': {
    exit: 1,
    message: 'There is text after M2.',
    hint: WRITE_AGAIN,
  },
  'station.read-no-end': {
    exit: 1,
    message: 'The program does not end with M2: the file may be cut short.',
    hint: COPY_AGAIN,
  },
  'station.read-no-feed-mode': {
    exit: 1,
    message: 'The program never says how feed is measured.',
    hint: WRITE_AGAIN,
  },
  'station.read-line-too-long': {
    exit: 1,
    message: 'The line has {characters, number} characters, more than {most, number}.',
    hint: WRITE_AGAIN,
  },
  'station.read-comment': {
    exit: 1,
    message: 'A comment is not closed, stands inside another, or holds a character that is not plain ASCII.',
    hint: WRITE_AGAIN,
  },
  'station.read-comment-active': {
    exit: 1,
    message: 'The comment begins with a word and a comma, which is an order to some controls.',
    hint: WRITE_AGAIN,
  },
  'station.read-comment-blank': {
    exit: 1,
    message: 'The line would be `{comment}`, but it has a blank too many or too few.',
    hint: WRITE_AGAIN,
  },
  'station.read-percent': {
    exit: 1,
    message: 'A `%` may stand alone before the head and once more after M2, and nowhere else.',
    hint: WRITE_AGAIN,
  },
  'station.read-sign': {
    exit: 1,
    message:
      '`{sign}` {kind, select, semicolon {begins a comment on some controls and ends the line on others} slash {makes a control leave out the line or not, as its switch stands} other {asks the control to work out a number}}.',
    hint: WRITE_AGAIN,
  },
  'station.read-no-point': {
    exit: 1,
    message: '`{word}` has no decimal point. Some controls read it as a count of their smallest steps.',
    hint: WRITE_AGAIN,
  },
  'station.read-same-group': {
    exit: 1,
    message: '`{word}` and `{other}` stand on one line, and a control takes one of them.',
    hint: WRITE_AGAIN,
  },
  'station.read-dwell': {
    exit: 1,
    message: 'A G4 stands on its line without a P, or a P without a G4.',
    hint: WRITE_AGAIN,
  },
  'station.read-axis-without-motion': {
    exit: 1,
    message: '`{word}` moves an axis, but the line has neither G0 nor G1. A control takes the one before.',
    hint: WRITE_AGAIN,
  },
  'station.read-not-a-word': {
    exit: 1,
    message: '{text} is not a word of a program.',
    hint: WRITE_AGAIN,
  },
  'station.read-word-in-move': {
    exit: 1,
    message: '`{word}` has no place in a move.',
    hint: WRITE_AGAIN,
  },
  'station.read-move-without-axis': {
    exit: 1,
    message: 'The move names no axis.',
    hint: WRITE_AGAIN,
  },
  'station.read-rapid-with-feed': {
    exit: 1,
    message: 'A rapid move has an F.',
    hint: WRITE_AGAIN,
  },
  'station.read-word-unknown': {
    exit: 1,
    message: '`{word}` may not stand here.',
    hint: WRITE_AGAIN,
  },
  'station.read-move-before-units': {
    exit: 1,
    message: 'A move comes before G21 and G90.',
    hint: WRITE_AGAIN,
  },
  'station.read-first-move': {
    exit: 1,
    message: 'The first move is not Z alone, up to safe height.',
    hint: WRITE_AGAIN,
  },
  'station.read-feed-before-position': {
    exit: 1,
    message: 'The program feeds before it has said where every axis is.',
    hint: WRITE_AGAIN,
  },
  'station.read-feed-before-mode': {
    exit: 1,
    message: 'The program feeds before G93 or G94.',
    hint: WRITE_AGAIN,
  },
  'station.read-feed-without-rate': {
    exit: 1,
    message: 'A G1 line has no F above 0.',
    hint: WRITE_AGAIN,
  },
  'station.read-feed-mode-changes': {
    exit: 1,
    message: '{word} changes the feed mode after a cut.',
    hint: WRITE_AGAIN,
  },
  'station.read-zero-shifted': {
    exit: 1,
    message: '{word} shifts zero after a move.',
    hint: WRITE_AGAIN,
  },
  'station.read-spindle-without-speed': {
    exit: 1,
    message: 'The spindle is started without a speed.',
    hint: WRITE_AGAIN,
  },
  'station.readback-travel': {
    exit: 1,
    message: '{axis} goes to {to}, past its limits {min} to {max}.',
    hint: WRITE_AGAIN,
  },
  'station.readback-rapid-along': {
    exit: 1,
    message: 'A rapid move goes along below safe height, through the work.',
    hint: WRITE_AGAIN,
  },
  'station.readback-rapid-blind': {
    exit: 1,
    message: 'A rapid move goes below safe height before X is known.',
    hint: WRITE_AGAIN,
  },
  'station.readback-rapid-down': {
    exit: 1,
    message: 'A rapid move comes down to {over} mm over the surface, nearer than `approach`.',
    hint: WRITE_AGAIN,
  },
  'station.readback-axis-too-fast': {
    exit: 1,
    message: '{axis} would have to go faster than its limit, {speed}.',
    hint: WRITE_AGAIN,
  },
  'station.readback-feed-above': {
    exit: 1,
    message: 'A feed move goes along above the surface, outside any cut.',
    hint: WRITE_AGAIN,
  },
  'station.readback-feed-in-or-out': {
    exit: 1,
    message: 'A feed move goes into or out of the work on its way along.',
    hint: WRITE_AGAIN,
  },
  'station.readback-past-edge': {
    exit: 1,
    message: 'The program cuts {over} mm past the edge of surface {surface}.',
    hint: WRITE_AGAIN,
  },
  'station.readback-setting': {
    exit: 1,
    message:
      '{want, select, none {The station asks for no {found} here} other {Here stands {found}, and the station asks for {want}}}.',
    hint: WRITE_AGAIN,
  },
  'station.readback-setting-missing': {
    exit: 1,
    message: 'The station asks for {want}, and the program does not have it.',
    hint: WRITE_AGAIN,
  },
  'station.readback-setting-place': {
    exit: 1,
    message: 'Here stands {found} in the middle of the cut.',
    hint: WRITE_AGAIN,
  },
  'station.readback-block-again': {
    exit: 1,
    message: '{name} is begun more often than it is to be cut.',
    hint: WRITE_AGAIN,
  },
  'station.readback-line-again': {
    exit: 1,
    message:
      '{name} is cut in more places than the {lines, plural, one {# line} other {# lines}} it has. A line may be cut twice.',
    hint: WRITE_AGAIN,
  },
  'station.readback-way-again': {
    exit: 1,
    message:
      '{name} is followed for {way} mm, and all its passes come to {planned} mm. A line may be cut twice.',
    hint: WRITE_AGAIN,
  },
  'station.readback-stretch-again': {
    exit: 1,
    message:
      'The cutter goes {times, number} times over a stretch at sheet x {x}, y {y}, {passes, plural, one {where # pass is} other {where # passes are}} to be cut.',
    hint: WRITE_AGAIN,
  },
  'station.readback-down-for-nothing': {
    exit: 1,
    message: 'The cutter comes down here, and cuts nothing before it goes up again.',
    hint: WRITE_AGAIN,
  },
  'station.readback-turns-for-nothing': {
    exit: 1,
    message: 'The part turns by {degrees} degrees without a cut, and the next cut does not need it.',
    hint: WRITE_AGAIN,
  },
  'station.compare-slow': {
    exit: 1,
    message:
      'The cutter goes at {feed} mm/min, less than nine tenths of the {asked} mm/min that are asked for.',
    hint: WRITE_AGAIN,
  },
  'station.readback-pass-too-deep': {
    exit: 1,
    message: 'The cutter goes {by} mm deeper at once, and one pass is {pass} mm.',
    hint: WRITE_AGAIN,
  },
  'station.readback-turn': {
    exit: 1,
    message: 'The program turns the part {degrees} degrees in one cut.',
    hint: WRITE_AGAIN,
  },
  'station.readback-ends-low': {
    exit: 1,
    message: 'The program ends below safe height.',
    hint: WRITE_AGAIN,
  },
  'station.compare-too-deep': {
    exit: 1,
    message: 'The program cuts {by} mm too deep.',
    hint: WRITE_AGAIN,
  },
  'station.compare-extra': {
    exit: 1,
    message:
      'The program cuts where nothing is to be cut, {off, select, far {far from any line} other {at {off} mm from the nearest line}}.',
    hint: WRITE_AGAIN,
  },
  'station.compare-too-shallow': {
    exit: 1,
    message: 'The program cuts {by} mm too shallow at sheet x {x}, y {y}.',
    hint: WRITE_AGAIN,
  },
  'station.compare-missing': {
    exit: 1,
    message:
      'The program does not cut at sheet x {x}, y {y}: {off, select, none {nothing else is cut on this sheet} other {the nearest cut is {off} mm away}}.',
    hint: WRITE_AGAIN,
  },
  'station.compare-feed': {
    exit: 1,
    message: 'The program feeds at {feed} mm/min, more than the {most} allowed.',
    hint: WRITE_AGAIN,
  },
  'station.compare-plunge': {
    exit: 1,
    message: 'The program plunges at {plunge} mm/min, more than the {most} allowed.',
    hint: WRITE_AGAIN,
  },
  'station.compare-spindle': {
    exit: 1,
    message: 'The program cuts with the spindle at {speed}, not {expected}.',
    hint: WRITE_AGAIN,
  },
  'station.compare-too-much': {
    exit: 1,
    message: 'Comparing the program with the layout takes more than {most, number} steps of work.',
    hint: 'Make the drawing simpler, or cut it in parts.',
  },
});
