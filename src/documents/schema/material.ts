import { z } from 'zod';
import { depthMm, feedMmPerMin, line, title, version } from './scalar.js';

export const material = z.strictObject({
  kind: z.literal('material').describe('what this document is'),
  version,
  name: title.describe('as the bench calls it'),
  family: z
    .enum(['metal', 'resin', 'celluloid', 'ebonite', 'wood', 'lacquer'])
    .describe('decides the cautions; celluloid is cellulose nitrate and is never cut with a beam'),
  pass: depthMm.describe('deepest single pass, mm'),
  feed: feedMmPerMin.describe('fastest feed along the surface, mm/min'),
  gravity: z.number().positive().max(30).optional().describe('specific gravity'),
  cautions: z.array(line(300)).max(20).default([]).describe("the bench's own, printed after the usual ones"),
});

export type Material = z.infer<typeof material>;
