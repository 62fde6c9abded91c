import { defineMessages } from '../problem.js';

/** What cures a letter that would not be seen as it was drawn. */
const SEEN =
  'Make the mark larger, or take a finer cutter (a cone or a ball also cuts narrower where it cuts less deep); or name it under `may-differ`, if it may be so.';

export const { table, problem, refuse } = defineMessages({
  'cutting.too-many-passes': {
    exit: 2,
    message:
      'A depth of {depth, number, mm} mm in passes of {pass} mm takes {passes} passes, more than {most, number}.',
    hint: 'Give a deeper `pass` to the cutter or the material.',
  },
  'cutting.too-many-levels': {
    exit: 1,
    message:
      'Clearing the area in rings {step} mm apart takes more than {most, number} steps of work: {levels, plural, one {# ring} other {# rings}} did not reach its middle, and the next has {points, number} points.',
    hint: 'Take a wider cutter, or a smaller or simpler drawing.',
  },
  'cutting.too-many-floor-levels': {
    exit: 1,
    message:
      'Where the drawing is wider than its groove, the floor takes rings {step} mm apart, and they take more than {most, number} steps of work: {levels, plural, one {# ring} other {# rings}} did not reach the middle, and the next has {points, number} points.',
    hint: 'Cut the groove deeper, take a cone with a wider tip, make the drawing smaller or simpler, or clear it with a wide cutter (`way: clear`).',
  },
  'cutting.too-many-edges': {
    exit: 1,
    message:
      'The area has {points, number} points along its edges, many of them close together or abreast: drawing them in takes more than {most, number} steps of work.',
    hint: 'Make the drawing simpler, or cut it in parts.',
  },
  'cutting.too-much-hatch': {
    exit: 1,
    message: 'Hatching the area takes more than {most, number} steps of work.',
    hint: 'Take a wider cutter or a simpler drawing, or clear it without `hatch`.',
  },
  'cutting.edge-too-long': {
    exit: 1,
    message:
      'The edges of the area are {length, number, mm} mm long: a groove along them takes {points, number} points, more than {most, number}.',
    hint: 'Make the drawing smaller or simpler, or cut it in parts.',
  },
  'cutting.too-many-corners': {
    exit: 1,
    message:
      'The area has {corners, number} corners and {points, number} points along its edges: measuring a groove into them takes more than {most, number} steps of work.',
    hint: 'Make the drawing simpler, or cut it in parts.',
  },
  'cutting.too-many-strokes': {
    exit: 1,
    message:
      'The area has {points, number} points along its edges, many of them side by side: looking for strokes too thin to cut takes more than {most, number} steps of work.',
    hint: 'Make the drawing simpler, or cut it in parts.',
  },
  'cutting.too-much-cutting': {
    exit: 1,
    message:
      'Working out the lines that cut drawings and letters takes more than {most, number} steps of work.',
    hint: 'Have fewer or simpler drawings and letters, take a wider cutter, or follow their edges (`way: trace`).',
  },
  'cutting.seen-nothing': {
    exit: 1,
    message:
      'Nothing of "{name}" would be cut: the cutter leaves a line {width, number, mm} mm wide, too wide for it.',
    hint: 'Make the mark larger, or take a finer cutter.',
  },
  'cutting.seen-lost': {
    exit: 1,
    message:
      'A part of "{name}" would not be cut, at {x, number, mm} by {y, number, mm} mm from its lower left corner.',
    hint: SEEN,
  },
  'cutting.seen-broken': {
    exit: 1,
    message:
      'A stroke of "{name}" would be broken through, at {x, number, mm} by {y, number, mm} mm from its lower left corner.',
    hint: SEEN,
  },
  'cutting.seen-filled': {
    exit: 1,
    message:
      'A hollow of "{name}" would be cut away, at {x, number, mm} by {y, number, mm} mm from its lower left corner.',
    hint: SEEN,
  },
  'cutting.seen-joined': {
    exit: 1,
    message:
      'Two parts of "{name}" would be cut into one, at {x, number, mm} by {y, number, mm} mm from its lower left corner.',
    hint: SEEN,
  },
  'cutting.seen-closed': {
    exit: 1,
    message:
      'An opening of "{name}" would be cut shut, at {x, number, mm} by {y, number, mm} mm from its lower left corner.',
    hint: SEEN,
  },
  'cutting.seen-run-together': {
    exit: 1,
    message:
      '"{name}" and "{second}" beside it would be cut into one; they must stand {by, number, mm} mm farther apart at the least.',
    hint: 'Set the letters farther apart with `spacing`, take a finer cutter or a larger mark; or name one of them under `may-differ`, if it may be so.',
  },
  'cutting.seen-misread': {
    exit: 1,
    message:
      '"{name}" as it is cut {reads, select, none {is too little like it to be read} other {may be read as "{reads}"}}.',
    hint: SEEN,
  },
  'cutting.seen-alike': {
    exit: 1,
    message: '"{name}" as it is cut cannot be told from "{other}" of label {label}.',
    hint: 'Take another font, a finer cutter or a larger mark; or name one of them under `may-differ`, if a number cannot be mistaken all the same.',
  },
  'cutting.stroke-too-thin': {
    exit: 1,
    message: 'A stroke of "{name}" is {measured} mm wide, and the cutter cuts no narrower than {needed} mm.',
    hint: 'Nearest change: {changes}.',
  },
  'cutting.land-point-too-long': {
    exit: 1,
    message:
      'The land in "{name}" runs out to a point {measured} mm long. A point longer than {needed} mm may break.',
    hint: 'Use a wider letterform or a narrower cut, or accept that the point may break.',
  },
  'cutting.land-too-narrow': {
    exit: 1,
    message:
      'The strokes {second, select, none {in "{name}"} other {of "{name}" and "{second}"}} are too close to cut: the land between them is {measured} mm wide and must be {needed} mm.',
    hint: 'Nearest change: {changes}.',
  },
  'cutting.some-strokes-too-close': {
    exit: 1,
    message: 'These have strokes too close to cut at this size: {names}.',
    hint: 'The worst of them follows. Give the mark a `land` to have all of them listed.',
  },
  'cutting.strokes-run-together': {
    exit: 1,
    message:
      'The cuts {second, select, none {in "{name}"} other {of "{name}" and "{second}"}} run into one another{needed, select, none {} other {; {needed} mm of land must be left}}.',
    hint: 'Nearest change: {changes}.',
  },
});
