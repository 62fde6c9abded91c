import { z } from 'zod';
import { id, line, title, version } from './scalar.js';

const count = z.number().int().min(1).max(99_999);

/** Numbers kept out of a series, with the reason the register will show. */
const exclusion = z.strictObject({
  numbers: z.array(count).min(1).max(10_000).optional(),
  containing: z
    .string()
    .regex(/^[0-9]{1,5}$/, 'must be figures')
    .optional()
    .describe('every number written with these figures'),
  why: line(200),
});

const series = z.strictObject({
  id,
  title: title.describe("as printed: numbered edition, artist's proofs, hors commerce"),
  from: count.default(1),
  to: count,
  figures: z.enum(['arabic', 'roman']).default('arabic'),
  pad: z.number().int().min(1).max(6).default(1).describe('least number of arabic figures, filled with 0'),
  total: z
    .strictObject({
      joiner: line(8).describe('between number and total, such as /'),
      of: count.optional().describe('the stated total; `to` when left out'),
    })
    .optional(),
  before: line(40).optional(),
  after: line(40).optional(),
  exclude: z.array(exclusion).max(100).default([]),
});

export const edition = z.strictObject({
  kind: z.literal('edition'),
  version,
  name: title,
  designs: z.array(id).min(1).max(20),
  series: z.array(series).min(1).max(20),
});

export type Edition = z.infer<typeof edition>;
export type Series = z.infer<typeof series>;
export type Exclusion = z.infer<typeof exclusion>;
