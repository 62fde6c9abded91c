import { z } from 'zod';

/** Codes of the rules that schemas add to those of zod: a rule carries its code as its message. */
export const RULES = {
  id: 'documents.not-an-id',
  oneLine: 'documents.not-one-line',
  digits: 'documents.not-digits',
  stationWords: 'documents.station-words',
  stationMoves: 'documents.station-words-move',
} as const;

/** Longest length a workshop can mean: a pen is not a metre long. Keeps 1e308 out of every formula. */
const LONGEST_MM = 1000;

export const lengthMm = z.number().positive().max(LONGEST_MM);
export const distanceMm = z.number().min(0).max(LONGEST_MM);
export const positionMm = z.number().min(-LONGEST_MM).max(LONGEST_MM);
/** Any turn is taken; the limit only keeps figures where a double still has a thousandth of a degree. */
export const angleDeg = z.number().min(-36000).max(36000);
export const feedMmPerMin = z.number().positive().max(100_000);

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

export const title = line(120);

/** Version of the document form; a later burin reads every earlier one. */
export const version = z.literal(1).describe('of the document form');
