import { z } from 'zod';
import { id, line, RULES, title, version } from './scalar.js';

const count = z.number().int().min(1).max(99_999);

/** Numbers kept out of a series, with the reason the register will show. */
const exclusion = z.strictObject({
  numbers: z.array(count).min(1).max(10_000).optional().describe('these numbers'),
  containing: z
    .string()
    .regex(/^[0-9]{1,5}$/, RULES.digits)
    .optional()
    .describe('every number written with these figures'),
  why: line(200).describe('the reason the register will show'),
});

const series = z.strictObject({
  id: id.describe('of the series, within this edition'),
  title: title.describe("as printed: numbered edition, artist's proofs, hors commerce"),
  from: count.default(1).describe('first number'),
  to: count.describe('last number'),
  figures: z.enum(['arabic', 'roman']).default('arabic').describe('how numbers are written'),
  pad: z.number().int().min(1).max(6).default(1).describe('least number of arabic figures, filled with 0'),
  total: z
    .strictObject({
      joiner: line(8).describe('between number and total, such as /'),
      of: count.optional().describe('the stated total; `to` when left out'),
    })
    .optional()
    .describe('stated after the number'),
  before: line(40).optional().describe('written before the number'),
  after: line(40).optional().describe('written after it'),
  exclude: z.array(exclusion).max(100).default([]).describe('numbers kept out, each with its reason'),
});

export const edition = z.strictObject({
  kind: z.literal('edition').describe('what this document is'),
  version,
  name: title.describe('as it appears on sheets and certificates'),
  designs: z.array(id).min(1).max(20).describe('documents in designs/, all cut on every piece'),
  series: z.array(series).min(1).max(20).describe('such as the numbered edition and its proofs'),
  approvers: z.array(line(120)).min(1).max(20).optional().describe('who may approve its proof'),
  dedications: id
    .optional()
    .describe('a list of words by number, beside this document, without its ending .csv'),
});

export type Edition = z.infer<typeof edition>;
export type Series = z.infer<typeof series>;
export type Exclusion = z.infer<typeof exclusion>;
