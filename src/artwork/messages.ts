import { defineMessages } from '../problem.js';

const SIMPLIFY = 'Simplify the drawing.';
const PLAIN_STYLES = 'Save the drawing with presentation attributes instead of styles.';
const EXPAND_COPIES = 'Expand the copies and save the drawing again.';
const CHECK_LOSS = 'Check that the mark can do without it, or change the drawing.';
const TAKEN_WITHOUT = 'Check the proof sheet, or apply it to the shape in the drawing.';

export const { table, problem, refuse } = defineMessages({
  // Files that are refused.
  'artwork.not-utf8': {
    exit: 2,
    message: 'The file is not UTF-8 text.',
    hint: 'Save the drawing again as SVG in UTF-8.',
  },
  'artwork.not-svg': {
    exit: 2,
    message: 'The file is not an SVG drawing.',
    hint: 'Save the drawing as SVG.',
  },
  'artwork.not-xml': {
    exit: 2,
    message: 'The file is not well-formed XML here.',
    hint: 'Save the drawing again as plain SVG.',
  },
  'artwork.cut-short': {
    exit: 2,
    message: 'The file ends before the element `{name}` is closed.',
    hint: 'The file may be cut short: copy it again, or save the drawing again.',
  },
  'artwork.nothing-to-cut': {
    exit: 2,
    message: 'Nothing of the drawing can be cut.',
    hint: 'Draw lines or areas, or change `strokes` in the design.',
  },

  // Limits of reading. Each names what to reduce.
  'artwork.too-many-characters': {
    exit: 2,
    message: 'The file has more than {limit, number} characters.',
    hint: SIMPLIFY,
  },
  'artwork.too-deep': {
    exit: 2,
    message: 'Elements are nested more than {limit, number} levels deep, counting copies.',
    hint: 'Ungroup the drawing and save it again.',
  },
  'artwork.too-many-elements': {
    exit: 2,
    message: 'The drawing has more than {limit, number} elements, counting copies.',
    hint: 'Delete elements, or expand copies and join shapes.',
  },
  'artwork.too-many-classes': {
    exit: 2,
    message: 'An element has more than {limit, number} classes.',
    hint: PLAIN_STYLES,
  },
  'artwork.too-many-copies': {
    exit: 2,
    message: 'The drawing has more than {limit, number} copies made by `use`.',
    hint: EXPAND_COPIES,
  },
  'artwork.copies-too-deep': {
    exit: 2,
    message: 'Copies made by `use` are nested more than {limit, number} levels deep.',
    hint: EXPAND_COPIES,
  },
  'artwork.too-many-segments': {
    exit: 2,
    message: 'The drawing has more than {limit, number} lines and curves, counting copies.',
    hint: 'Simplify its paths, or delete some.',
  },
  'artwork.too-much-clipping': {
    exit: 2,
    message: 'The clips of the drawing have more than {limit, number} lines and curves, counting each use.',
    hint: 'Apply the clips to the shapes in the drawing.',
  },
  'artwork.clips-too-deep': {
    exit: 2,
    message: 'Clips are nested more than {limit, number} levels deep.',
    hint: 'Apply the clips to the shapes in the drawing.',
  },
  'artwork.too-many-dashes-given': {
    exit: 2,
    message: 'The dash lists of the drawing have more than {limit, number} entries.',
    hint: 'Shorten the lists in `stroke-dasharray`.',
  },
  'artwork.too-much-matching': {
    exit: 2,
    message: 'The style sheet takes more than {limit, number} comparisons with the elements of the drawing.',
    hint: PLAIN_STYLES,
  },
  'artwork.too-many-style-characters': {
    exit: 2,
    message: 'The `style` attributes have more than {limit, number} characters.',
    hint: PLAIN_STYLES,
  },
  'artwork.value-too-long': {
    exit: 2,
    message: 'The value of a style property has more than {limit, number} characters.',
    hint: PLAIN_STYLES,
  },

  // Limits of areas and lines.
  'artwork.too-many-crossings': {
    exit: 2,
    message: 'The edges of the drawing cross more than {limit, number} times.',
    hint: 'Join shapes that overlap, or reduce the points of the drawing.',
  },
  'artwork.stroke-too-dense': {
    exit: 2,
    message: 'The stroke lies on itself in more than {limit, number} places.',
    hint: 'Reduce its points or its width, or draw the outline of the area that it covers.',
  },
  'artwork.too-many-comparisons': {
    exit: 2,
    message: 'The outlines of the drawing need more than {limit, number} comparisons.',
    hint: 'Reduce the points of the drawing, or the shapes that clips cut.',
  },
  'artwork.too-many-points': {
    exit: 2,
    message: 'The curves and round corners of the drawing take more than {limit, number} points.',
    hint: 'Reduce the curves or the size of the drawing, or the width of its strokes.',
  },
  'artwork.too-many-dashes': {
    exit: 2,
    message: 'The drawing has more than {limit, number} dashes.',
    hint: 'Draw whole lines, or longer dashes.',
  },
  'artwork.too-many-cut-segments': {
    exit: 2,
    message: 'The clips and the edge of the drawing cut more than {limit, number} lines and curves.',
    hint: 'Cut the shapes in the drawing, and remove its clips.',
  },
  'artwork.pattern-too-large': {
    exit: 2,
    message:
      'With this mark, the patterns and repeats that an edition cuts together have {lines, number} lines with {points, number} points; the limits are {mostLines, number} lines and {mostPoints, number} points.',
    hint: 'Reduce {form, select, rosettes {one of `count`, `rows`, `curves`, `lobes` or `radius`} repeat {one of `count` or `rows` of `repeat`, or the points of the drawing} other {one of `count`, `rows` or `amplitude`}}.',
  },

  // What a drawing asks for and burin does not draw as asked.
  'artwork.left-out-element': {
    exit: 1,
    message:
      '{kind, select, image {The picture has no lines to cut} text {The text is not cut} foreignObject {The content of `foreignObject` is not cut} video {The video is not cut} audio {The sound is not used} script {The script is not run} other {burin does not know the element `{kind}` and does not cut it}}.',
    hint: '{kind, select, image {Trace it in the drawing program if it is to be cut} text {Turn it into paths in the drawing program} other {Check that the mark can do without it}}.',
  },
  'artwork.left-out-animation': {
    exit: 1,
    message: 'The animation is not played: the drawing is read without it.',
    hint: CHECK_LOSS,
  },
  'artwork.left-out-effect': {
    exit: 1,
    message:
      '{effect, select, filter {The filter is not applied.} mask {The mask is not applied.} marker {The markers on the line are not cut.} other {The property `{effect}` is not applied.}} The shape is taken without it.',
    hint: TAKEN_WITHOUT,
  },
  'artwork.plain-paint': {
    exit: 1,
    message:
      '{kind, select, pattern {The {property} is a pattern.} gradient {The {property} is a gradient.} other {The {property} comes from the element that uses the shape.}} It is taken as one plain colour.',
    hint: 'Check the proof sheet, or draw the lines and areas that are to be cut.',
  },
  'artwork.unread-value': {
    exit: 1,
    message: 'The value `{value}` of `{property}` cannot be read and is ignored.',
    hint: 'Write the value as a plain number or word, or apply it in the drawing program.',
  },
  'artwork.square-dots': {
    exit: 1,
    message:
      'Dashes of no length with square ends are turned along their line. A browser may draw them upright.',
    hint: 'Look at the sheet. For upright squares, draw them as shapes.',
  },
  'artwork.unread-property': {
    exit: 1,
    message: 'The property `{property}` is not applied.',
    hint: TAKEN_WITHOUT,
  },
  'artwork.unread-rule': {
    exit: 1,
    message: 'The style rule `{rule}` is not applied.',
    hint: PLAIN_STYLES,
  },
  'artwork.unread-style-sheet': {
    exit: 1,
    message: 'The style sheet {sheet} is not read.',
    hint: PLAIN_STYLES,
  },
  'artwork.unread-defaults': {
    exit: 1,
    message: 'Values that the file declares for attributes (`ATTLIST`) are not read.',
    hint: 'Write the attributes into the elements that need them.',
  },
  'artwork.without-namespace': {
    exit: 1,
    message: 'The file does not say that it is SVG. It is read as SVG, but a browser shows nothing of it.',
    hint: 'Add xmlns="http://www.w3.org/2000/svg" to the `svg` element.',
  },
  'artwork.unread-path-data': {
    exit: 1,
    message:
      'The path data cannot be read after {segments, plural, one {# line or curve} other {# lines and curves}}. The path is drawn up to there.',
    hint: 'Repair the path in the drawing program.',
  },
  'artwork.unread-points': {
    exit: 1,
    message: 'Not all points of the shape can be read. It is drawn up to the first fault.',
    hint: 'Repair the shape in the drawing program.',
  },
  'artwork.out-of-range': {
    exit: 1,
    message: 'The shape reaches farther than 10 km, or its size is not a number. It is not cut.',
    hint: 'Check its transforms and sizes.',
  },
  'artwork.unread-clip': {
    exit: 1,
    message:
      '{fault, select, missing {The clip is not in the file. The shape is taken without it} nested {A shape within the clip has a clip of its own. It is taken without it} edge {The clip is on a viewport that has an edge of its own. Browsers differ here; burin applies both} part {A part of the clip is not a shape. It does not clip} other {The clip is scaled to the bounding box of an element with a viewport in it. The box is measured without the viewport}}.',
    hint: 'Apply the clip to the shapes in the drawing.',
  },
  'artwork.unread-reference': {
    exit: 1,
    message:
      '{fault, select, external {The `use` refers to another file, which is not read} itself {The `use` copies itself. It is not cut} other {The `use` refers to nothing in the file}}.',
    hint: CHECK_LOSS,
  },
  'artwork.other-language': {
    exit: 1,
    message:
      '{drawn, select, yes {The element is drawn only for some languages. It is cut} other {The element is drawn for other languages. It is not cut}}.',
    hint: 'Check that it is the one to be cut.',
  },
  'artwork.conditional': {
    exit: 1,
    message: 'The element asks for extensions that only some programs have. It is not cut.',
    hint: CHECK_LOSS,
  },
  'artwork.paper-colour': {
    exit: 1,
    message: 'The {part} is white. It hides nothing, and is cut like any other.',
    hint: 'If it only covers something, cut its shape out of what lies below it, or delete it.',
  },
  'artwork.unknown-colour': {
    exit: 1,
    message:
      'burin cannot read the colour `{colour}`, so it cannot tell whether the {part} is white. It is cut like any other.',
    hint: 'Write the colour as #rrggbb, or check the proof sheet.',
  },
  'artwork.faint-paint': {
    exit: 1,
    message: 'The {part} is nearly transparent. It is cut like any other.',
    hint: 'Delete it if it is not to be cut.',
  },
  'artwork.white-over-ink': {
    exit: 1,
    message: 'The {part} is white and lies on {below}. Both are cut.',
    hint: 'If the white shape is to stay uncut, cut it out of the other in the drawing.',
  },
  'artwork.white-under-ink': {
    exit: 1,
    message: 'The {part} is white and lies under {above}. Both are cut.',
    hint: 'Delete the white shape if it is only a background.',
  },
  'artwork.more-remarks': {
    exit: 1,
    message: 'There are more remarks on the drawing than the {limit, number} listed.',
    hint: 'Correct those that are listed and check again.',
  },
});
