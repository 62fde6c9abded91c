import { z } from 'zod';
import { depthMm, diameterMm, feedMmPerMin, lengthMm, lineWidthMm, RULES, title, version } from './scalar.js';

/** What of a cutter stands above its cutting end. */
const body = z
  .array(
    z.strictObject({
      from: lengthMm.describe('above the tip, mm'),
      diameter: diameterMm.describe('from there on, mm'),
    }),
  )
  .min(1)
  .max(10)
  .refine((steps) => steps.every((step, k) => k === 0 || step.from > steps[k - 1]!.from), RULES.bodyRises)
  .optional()
  .describe('shank and holder, from the tip up; left out: the cutting end goes on for ever');

const common = {
  kind: z.literal('cutter').describe('what this document is'),
  version,
  name: title.describe('as the bench calls it'),
  feed: feedMmPerMin.describe('fastest feed along the surface, mm/min'),
  plunge: feedMmPerMin.describe('feed straight down, mm/min'),
  depth: depthMm.describe('deepest cut, mm'),
  pass: depthMm.optional().describe("deepest single pass, mm; the material's where that is less"),
  body,
};
/** Of a ball or flat end: the finest made are some hundredths of a millimetre across. */
const cutterDiameterMm = z.number().min(0.02).max(50);
const turning = { speed: z.number().min(1).max(200_000).describe('spindle speed, 1/min') };

export const cutter = z.discriminatedUnion('shape', [
  z.strictObject({
    ...common,
    shape: z.literal('drag').describe('a point drawn through the surface without turning'),
    width: lineWidthMm.describe('of the line it leaves, mm'),
  }),
  z.strictObject({
    ...common,
    ...turning,
    shape: z.literal('cone').describe('a turning point whose line widens with depth'),
    tip: z.number().min(0).max(10).describe('tip width, mm'),
    angle: z.number().min(1).max(170).describe('included angle, degrees'),
  }),
  z.strictObject({
    ...common,
    ...turning,
    shape: z.literal('ball').describe('a turning half ball'),
    diameter: cutterDiameterMm.describe('of the ball, mm'),
  }),
  z.strictObject({
    ...common,
    ...turning,
    shape: z.literal('flat').describe('a turning end square to its axis'),
    diameter: cutterDiameterMm.describe('of the end, mm'),
  }),
  z.strictObject({
    ...common,
    shape: z.literal('beam').describe('light instead of a point; never on celluloid'),
    width: lineWidthMm.describe('of the line it leaves, mm'),
  }),
]);

export type Cutter = z.infer<typeof cutter>;
