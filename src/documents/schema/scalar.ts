import { z } from 'zod';

/** Codes of the rules that schemas add to those of zod: a rule carries its code as its message. */
export const RULES = {
  id: 'documents.not-an-id',
  oneLine: 'documents.not-one-line',
  digits: 'documents.not-digits',
  stationWords: 'documents.station-words',
  stationMoves: 'documents.station-words-move',
  bodyRises: 'documents.body-falls',
} as const;

/** Longest length a workshop can mean: a pen is not a metre long. Keeps 1e308 out of every formula. */
const LONGEST_MM = 1000;

/** Shortest length a bench can mean: a micrometre, finer than any engraving station moves. */
const SHORTEST_MM = 0.001;

export const lengthMm = z.number().min(SHORTEST_MM).max(LONGEST_MM);
/** Of the part or of a cutter: from the finest wire to what a bench lathe swings. */
export const diameterMm = z.number().min(0.1).max(500);
/** Below a tenth no cutter draws a letter. */
export const LEAST_HEIGHT_MM = 0.1;
/** A line wider than this share of the letter closes its counters. Common practice, no source. */
export const WIDEST_OF_LETTER = 0.5;
/** Height of capitals or of a drawing; no pen bears one above a hand's width. */
export const heightMm = z.number().min(LEAST_HEIGHT_MM).max(200);
/** Of a cut. Engraving goes some tenths deep; ten millimetres would be milling. */
export const depthMm = z.number().min(SHORTEST_MM).max(10);
/** Width of the line a point or a beam leaves. Finer than five micrometres is polish, wider than ten mm no line. */
export const lineWidthMm = z.number().min(0.005).max(10);
/** Of land left between cuts: no hollow of a drawing is compared with more, and the work grows with it. */
export const landMm = z.number().min(0).max(10);
/** From row to row: rows nearer than a fiftieth of a millimetre are one surface. */
export const riseMm = z.number().min(0.02).max(LONGEST_MM);
export const distanceMm = z.number().min(0).max(LONGEST_MM);
export const positionMm = z.number().min(-LONGEST_MM).max(LONGEST_MM);
/** Any turn is taken; the limit only keeps values where a double still has a thousandth of a degree. */
export const angleDeg = z.number().min(-36000).max(36000);
/** A tenth of a millimetre a minute is a day for a line; past a hundred metres a minute no cutter follows. */
export const feedMmPerMin = z.number().min(0.1).max(100_000);

/** Names one thing inside a workshop; also a file name, so nothing that can leave the folder. */
export const id = z.string().regex(/^[a-z0-9][a-z0-9-]{0,62}$/, RULES.id);

/** Text from people: any script, one line, no control characters. */
export const line = (longest: number) =>
  z
    .string()
    .min(1)
    .max(longest)
    // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is refused
    .regex(/^[^\u0000-\u001f\u007f-\u009f\u2028\u2029]*$/, RULES.oneLine);

/** A name that people read: something of it can be seen. */
export const title = line(120).regex(/[^\s\p{Cf}\p{Default_Ignorable_Code_Point}]/u, RULES.oneLine);

/** Version of the document form; a later burin reads every earlier one. */
export const version = z.literal(1).describe('of the document form');
