import { capitals } from './capitals.js';
import type { Glyph } from './glyph.js';
import { dotlessI, lower } from './lower.js';
import { DOT } from './metrics.js';
import { bar, east, moved, oval, pen, type Stroke, spot, west } from './pen.js';

/**
 * Marks are drawn about the point they hang from: x from its middle, y from the letter's edge. Setting one on a
 * letter is a move to the letter's anchor, so every letter with anchors takes every mark.
 */
interface Mark {
  readonly name: string;
  readonly place: 'top' | 'bottom';
  readonly strokes: readonly Stroke[];
}

const marks = {
  grave: { name: 'grave', place: 'top', strokes: [bar(-75, 325, 45, 180)] },
  acute: { name: 'acute', place: 'top', strokes: [bar(75, 325, -45, 180)] },
  circumflex: {
    name: 'circumflex',
    place: 'top',
    strokes: [pen(-130, 185).line(0, 325).line(130, 185).end()],
  },
  tilde: {
    name: 'tilde',
    place: 'top',
    strokes: [pen(-150, 205, 66).curve(-75, 270, east).sway(75, 205, east, 68, 68).curve(150, 270, 66).end()],
  },
  dieresis: {
    name: 'dieresis',
    place: 'top',
    strokes: [spot(-110, 240, DOT), spot(110, 240, DOT)],
  },
  ring: { name: 'ring', place: 'top', strokes: [oval(0, 275, 85, 85)] },
  cedilla: {
    name: 'cedilla',
    place: 'bottom',
    strokes: [pen(0, 0).line(0, -140).curve(-115, -270, west).end()],
  },
} as const satisfies Record<string, Mark>;

type MarkName = keyof typeof marks;

const bases = new Map([...capitals, ...lower, dotlessI].map((glyph) => [glyph.char, glyph]));

/** A letter with a mark. A wide mark over a narrow letter widens its room evenly, so that nothing leaves it. */
export function marked(char: string, base: string, markName: MarkName): Glyph {
  const letter = bases.get(base);
  const mark: Mark = marks[markName];
  const at = letter?.anchors[mark.place];
  if (!letter || !at) throw new Error(`${base} has no place for a mark at its ${mark.place}.`);
  const hung = moved(mark.strokes, at[0], at[1]);
  return { ...letter, name: `${letter.name}${mark.name}`, char, strokes: [...letter.strokes, ...hung] };
}

const rows: readonly (readonly [MarkName, chars: string, bases: string])[] = [
  ['grave', 'ÀÈÌÒÙàèìòù', 'AEIOUaeıou'],
  ['acute', 'ÁÉÍÓÚÝáéíóúý', 'AEIOUYaeıouy'],
  ['circumflex', 'ÂÊÎÔÛâêîôû', 'AEIOUaeıou'],
  ['tilde', 'ÃÑÕãñõ', 'ANOano'],
  ['dieresis', 'ÄËÏÖÜäëïöüÿ', 'AEIOUaeıouy'],
  ['ring', 'Åå', 'Aa'],
  ['cedilla', 'Çç', 'Cc'],
];

export const accented: readonly Glyph[] = rows.flatMap(([mark, chars, letters]) =>
  [...chars].map((char, i) => marked(char, [...letters][i]!, mark)),
);
