import { z } from 'zod';
import { feedMmPerMin, lengthMm, title, version } from './scalar.js';

const common = {
  kind: z.literal('cutter'),
  version,
  name: title,
  feed: feedMmPerMin.describe('fastest feed along the surface, mm/min'),
  plunge: feedMmPerMin.describe('feed straight down, mm/min'),
  depth: lengthMm.describe('deepest cut, mm'),
  pass: lengthMm.optional().describe("deepest single pass, mm; the material's where that is less"),
};
const turning = { speed: z.number().positive().max(100_000).describe('spindle speed, 1/min') };

export const cutter = z.discriminatedUnion('shape', [
  z.strictObject({
    ...common,
    shape: z.literal('drag'),
    width: lengthMm.describe('of the line it leaves, mm'),
  }),
  z.strictObject({
    ...common,
    ...turning,
    shape: z.literal('cone'),
    tip: z.number().min(0).max(10).describe('tip width, mm'),
    angle: z.number().min(1).max(170).describe('included angle, degrees'),
  }),
  z.strictObject({ ...common, ...turning, shape: z.literal('ball'), diameter: lengthMm }),
  z.strictObject({ ...common, ...turning, shape: z.literal('flat'), diameter: lengthMm }),
  z.strictObject({
    ...common,
    shape: z.literal('beam'),
    width: lengthMm.describe('of the line it leaves, mm'),
  }),
]);

export type Cutter = z.infer<typeof cutter>;
