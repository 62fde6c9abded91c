import { z } from 'zod';
import { id } from '../../documents/schema/scalar.js';
import { nonBlankLine } from '../non-blank-line.js';
import { CONDITIONS } from '../phrases.js';

const count = z.number().int().min(1).max(99_999);
/** Such as `4, 13-14`, ascending. */
const ranges = z
  .string()
  .max(100_000)
  .regex(/^[1-9][0-9]{0,4}(-[1-9][0-9]{0,4})?(, [1-9][0-9]{0,4}(-[1-9][0-9]{0,4})?)*$/);
/** Blank at either end, it would still be part of every label. */
const affix = z
  .string()
  .min(1)
  .max(40)
  .refine((text) => !/[\p{Surrogate}\p{Cc}]/u.test(text), CONDITIONS.halfCharacter);

const exclusion = z.strictObject({
  numbers: ranges.optional(),
  containing: z
    .string()
    .regex(/^[0-9]{1,5}$/)
    .optional(),
  why: nonBlankLine(200),
});

/** A series as it was fixed: which numbers there are, and how each is written. */
const seriesTerms = z.strictObject({
  id,
  title: nonBlankLine(200),
  from: count,
  to: count,
  figures: z.enum(['arabic', 'roman']),
  pad: z.number().int().min(1).max(6),
  total: z.strictObject({ joiner: affix, of: count }).optional(),
  before: affix.optional(),
  after: affix.optional(),
  exclude: z.array(exclusion).max(100),
});

/** A part of the piece: what it is made of, and whether it bears the number. */
const partTerms = z.strictObject({ part: id, material: id, numbered: z.boolean() });

/** What an edition promised when its first number was given out. */
export const editionTerms = z.strictObject({
  series: z.array(seriesTerms).min(1).max(20),
  parts: z.array(partTerms).max(20),
  /** Who may approve a proof of it; empty where nobody was named. */
  approvers: z.array(nonBlankLine(120)).max(20),
});

export type EditionTerms = z.infer<typeof editionTerms>;
export type SeriesTerms = EditionTerms['series'][number];

/** The terms of an edition, and the name by which the register knows it. */
export interface NamedTerms {
  readonly name: string;
  readonly terms: EditionTerms;
}
