import { defineMessages } from '../problem.js';

const COPY_AGAIN = 'Copy it again from where it came.';
const SAVE_ANEW = 'Save it again from a font editor.';

/** What can be wrong with a font. */
export const { table, problem, refuse } = defineMessages({
  'lettering.font-empty': { exit: 2, message: 'The font file is empty.', hint: COPY_AGAIN },
  'lettering.font-damaged': {
    exit: 2,
    message: 'The font file is cut short or damaged.',
    hint: COPY_AGAIN,
  },
  'lettering.font-checksum': {
    exit: 2,
    message: 'The {table} table does not match its checksum: the file has changed since it was made.',
    hint: `${COPY_AGAIN} If it is refused again, save it again from a font editor.`,
  },
  'lettering.font-too-large': {
    exit: 2,
    message: 'The font is larger than {megabytes, number} MB.',
    hint: 'Use a font with fewer glyphs.',
  },
  'lettering.font-not-a-font': {
    exit: 2,
    message: 'This is not a font file.',
    hint: 'Give a TTF, OTF or WOFF file.',
  },
  'lettering.font-woff2': {
    exit: 2,
    message: 'This is a WOFF2 font, which burin does not read.',
    hint: 'Save it as TTF, OTF or WOFF.',
  },
  'lettering.font-collection': {
    exit: 2,
    message: 'This file is a collection of several fonts.',
    hint: 'Save the one you mean as a TTF or OTF of its own.',
  },
  'lettering.font-without-table': {
    exit: 2,
    message: 'The font has no {table} table.',
    hint: SAVE_ANEW,
  },
  'lettering.font-without-outlines': {
    exit: 2,
    message: 'The font has no outlines that burin reads.',
    hint: 'Use one with TrueType or CFF outlines; save one instance of a variable CFF2 font.',
  },
  'lettering.font-without-characters': {
    exit: 2,
    message: 'The font has no Unicode character map that burin reads.',
    hint: SAVE_ANEW,
  },
  'lettering.font-without-cap-height': {
    exit: 2,
    message: 'The font has no capital H and states no height of capitals, so letters cannot be sized.',
    hint: 'Use a font with Latin capitals.',
  },
  'lettering.stroke-font-not-xml': {
    exit: 2,
    message: 'The font is not well-formed XML here.',
    hint: 'Save it again as an SVG font.',
  },
  'lettering.stroke-font-without-cap-height': {
    exit: 2,
    message: 'The font states no cap-height.',
    hint: 'Add `cap-height` to its `font-face`.',
  },
  'lettering.stroke-font-glyph': {
    exit: 2,
    message: 'The glyph for "{character}" cannot be read.',
    hint: 'Give it a width, and a path of absolute M, L, Q, C and Z only.',
  },
  'lettering.stroke-font-kern': {
    exit: 2,
    message: 'The kern of "{pair}" is not a number.',
    hint: 'Give its `k` as a number of font units.',
  },
  'lettering.stroke-font-too-large': {
    exit: 2,
    message: 'The font has more than {glyphs, number} glyphs or {kerns, number} kerned pairs.',
    hint: 'Use a font with fewer of them.',
  },
});
