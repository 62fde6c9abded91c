/**
 * The measures every letter is drawn to, in font units of one thousandth of the lettering height h.
 *
 * The proportions are those of ISO 3098 lettering type B, upright. Height is measured over the centre lines: a
 * capital's tool path runs from 0 to h exactly. The grid of the standard is drawn through the middle of the line,
 * and it is the path, not the cut, that a program has to prove; the width of the cut lies half outside and is
 * added where a line of lettering is fitted to its place.
 */

/** Lettering height: capitals, digits and ascenders. */
export const CAP = 1000;
/** Height of small letters without a stem above, 7/10 h. */
export const X_HEIGHT = 700;
/** Tails below the base line, 3/10 h. */
export const TAIL = -300;
/** Room for marks above capitals, 4/10 h. */
export const MARK_TOP = 1400;
/** Design width of the cut, 1/10 h. */
export const LINE_WIDTH = 100;
/** Clear space between neighbours, 2/10 h, counted between the edges of cuts of the design width. */
export const CHARACTER_GAP = 200;
/** Clear space between words, 6/10 h, counted the same way. */
export const WORD_GAP = 600;

/**
 * Room kept beside the outermost centre line. Two straight stems stand exactly the character gap apart: half the
 * gap and half the line width each. Rounds and open sides take less, as the eye wants; two of the least bearings
 * together still keep half the gap clear, the nearest the standard lets neighbours come.
 */
export const BEARING = {
  straight: CHARACTER_GAP / 2 + LINE_WIDTH / 2,
  round: 125,
  open: CHARACTER_GAP / 4 + LINE_WIDTH / 2,
} as const;

export type Side = keyof typeof BEARING;

/** A space between straight stems makes up the word gap: their bearings give the character gap already. */
export const SPACE_ADVANCE = WORD_GAP - CHARACTER_GAP;

/** One advance for all ten digits, so that numbers stack in register. */
export const DIGIT_ADVANCE = 760;

/** Radius of the small ring cut for a dot; with the design line it makes a dot half as wide again as the line. */
export const DOT = 25;
