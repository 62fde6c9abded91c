import { defineMessages } from '../problem.js';

/** What the layout of marks can find wrong, in words. */
export const { table, problem, refuse } = defineMessages({
  'layout.fit-too-long': {
    exit: 1,
    message:
      'The marks of the edition have taken {steps, number} steps of work, and this one has no size and place yet.',
    hint: 'Use {fixed, select, yes {} other {a narrower range of sizes or a smaller zone for the mark, }}fewer labels or marks, a simpler font or drawing, or keep-outs with fewer corners.',
  },
  'layout.does-not-fit': {
    exit: 1,
    message:
      'At {size} mm, the smallest, label {label}{glyph, select, none {} other { (at "{glyph}")}} is {short} mm short of the clearance to {obstacle}.',
    hint: 'Nearest change: {changes}.',
  },
  'layout.fits-nowhere': {
    exit: 1,
    message:
      'At {size} mm, the smallest, label {label}{glyph, select, none {} other { (at "{glyph}")}} is {short} mm short of the clearance to {obstacle}.',
    hint: 'Choose another surface or a shorter text.',
  },
  'layout.character-substituted': {
    exit: 1,
    message: '"{character}" is not in the font, and "{by}" is cut in its place.',
    hint: 'Check it on the proof sheet, or choose a font that has it.',
  },
  'layout.floor-too-deep': {
    exit: 1,
    message:
      'On a level station the end of the cutter leans into this taper, and cuts {floor, number, mm} mm deep where {depth, number, mm} mm are asked for: less than two fifths of the wall ({wall, number, mm} mm) are left.',
    hint: 'Cut it on a tilted station alone, take a narrower end, or stay under {most, number, mm} mm.',
  },
  'layout.wider-uphill': {
    exit: 1,
    message:
      'On this taper a level station cuts {wider, number, percent} wider toward the thicker end{deeper, select, no {} other {, and the floor {floor, number, mm} mm deep}}; room is kept for it.',
    hint: 'A tilted station cuts it as it is drawn.',
  },
  'layout.narrower-along': {
    exit: 1,
    message:
      'The part falls away under the cutter: lines along it are cut {narrower, number, percent} narrower than lines round it.',
    hint: 'Take a narrower cutter, or cut deeper.',
  },
  'layout.fits-at-smallest-only': {
    exit: 1,
    message: 'It fits at the smallest size only.',
    hint: 'Check on the proof sheet that it can be read.',
  },
  'layout.meets-obstacle': {
    exit: 1,
    message: 'It runs into {obstacle}.',
    hint: 'Move it, make it smaller, or give `meets: drop` or `meets: trim`.',
  },
  'layout.meets-itself': {
    exit: 1,
    message: 'It is {over, number, mm} mm too wide to go round the ring, and meets itself.',
    hint: 'Make it smaller, or move it to where the ring is longer.',
  },
  'layout.nothing-left': {
    exit: 1,
    message: 'Nothing of it is left to cut.',
    hint: 'Move it, or use a finer cutter.',
  },
  'layout.drawing-without-width': {
    exit: 1,
    message: 'The drawing has no width, so it cannot be stretched round the ring.',
    hint: 'Leave out `form: stretched`.',
  },
  'layout.fit-too-large': {
    exit: 1,
    message:
      'Trying one place takes {steps, number} steps of work for its letters and keep-outs; of the {most, number} that the fit of an edition may take, {left, number} are left.',
    hint: 'Use fewer labels or marks, a simpler font or drawing, or keep-outs with fewer corners.',
  },
  'layout.too-many-letters': {
    exit: 1,
    message:
      'The marks of the edition have {letters, number} letters on its {pieces, plural, one {# piece} other {# pieces}} together{helix, plural, =0 {} other { (one on a helix counts as #)}}, more than {most, number}. This mark has the most.',
    hint: 'Plan fewer pieces, write shorter labels, or let fewer marks differ from piece to piece.',
  },
  'layout.font-without-areas': {
    exit: 2,
    message: 'The font {font} is drawn in single lines, which have no area to {strategy}.',
    hint: 'Use `way: trace`, or an outline font.',
  },
  'layout.drawing-without-areas': {
    exit: 2,
    message: 'The drawing {artwork} has single lines only, which have no area to {strategy}.',
    hint: 'Use `way: trace`, or `strokes: outline`.',
  },
  'layout.no-dedications': {
    exit: 2,
    message: 'The edition has no dedications.',
    hint: 'Give the edition a `dedications` list, or drop the mark.',
  },
  'layout.dedication-without-series': {
    exit: 2,
    message: 'The edition has several series.',
    hint: 'Give its series: {series}.',
  },
  'layout.dedication-without-number': {
    exit: 2,
    message: 'The series {series} has no number {number}.',
    hint: 'Correct the number or the series.',
  },
  'layout.characters-missing': {
    exit: 2,
    message: 'The font {font} has no {characters}.',
    hint: 'Choose a font that has it, or other text.',
  },
  'layout.characters-substitutable': {
    exit: 2,
    message: 'The font {font} has no {characters}.',
    hint: 'Choose a font that has it, other text, or `substitute: true`.',
  },
});
