import { z } from 'zod';
import { lengthMm, positionMm, RULES, title, version } from './scalar.js';

const sign = z
  .union([z.literal(1), z.literal(-1)])
  .default(1)
  .describe('-1 where the axis runs against z, angle or height');
/** A station slower than a unit a minute is not moving. */
const speed = z.number().min(1).max(1_000_000);

/** One line of words for the control, as RS274/NGC writes them; no comments, no feed moves. */
const words = z
  .string()
  .max(256)
  .regex(/^[GMSTFP][0-9]+(\.[0-9]+)?( [GMSTFP][0-9]+(\.[0-9]+)?)*$/, RULES.stationWords)
  .refine((s) => !/\bG(0?[0-3]|9[0134]|2[01])\b(?!\.)/.test(s), RULES.stationMoves);

export const station = z.strictObject({
  kind: z.literal('station').describe('what this document is'),
  version,
  name: title.describe('as the bench calls it'),
  setup: z
    .enum(['level', 'tilted'])
    .describe(
      'level: axis horizontal, cutter radial; tilted: generator horizontal, cutter square to the surface',
    ),
  axes: z
    .strictObject({
      x: z
        .strictObject({
          sign,
          offset: positionMm
            .default(0)
            .describe('X at the datum end (level) or at the lower edge of the surface (tilted), mm'),
          min: positionMm.describe('lower end of the travel, mm'),
          max: positionMm.describe('upper end of the travel, mm'),
          speed: speed.describe('fastest, mm/min'),
        })
        .describe('along the part'),
      a: z
        .strictObject({
          sign,
          offset: z.number().min(-3600).max(3600).default(0).describe('A at the index line, degrees'),
          min: z
            .number()
            .min(-36000)
            .max(36000)
            .optional()
            .describe('left out when the axis turns without end'),
          max: z.number().min(-36000).max(36000).optional().describe('with `min`, degrees'),
          speed: speed.describe('fastest, degrees/min'),
        })
        .describe('round the part'),
      z: z
        .strictObject({
          zero: z
            .enum(['axis', 'touch'])
            .default('touch')
            .describe(
              'Z 0 on the axis of rotation, or where the cutter touches the surface at its lower edge',
            ),
          offset: positionMm.default(0).describe('Z at that zero, mm'),
          min: positionMm.describe('lower end of the travel, mm'),
          max: positionMm.describe('upper end of the travel, mm'),
          speed: speed.describe('fastest, mm/min'),
        })
        .describe('toward and away from the part'),
    })
    .describe('linear X, rotary A, linear Z'),
  safe: lengthMm.describe('height above the highest point of the surface for rapid moves, mm'),
  approach: lengthMm.describe('height above the surface from which the cutter goes down at feed, mm'),
  feed: z
    .enum(['inverse-time', 'per-minute'])
    .default('inverse-time')
    .describe('how F words are meant: G93 or G94'),
  decimals: z.number().int().min(3).max(6).default(4).describe('digits after the point in X, A and Z'),
  before: z.array(words).max(20).default([]).describe('lines after the opening block'),
  after: z.array(words).max(20).default([]).describe('lines before the end of the program'),
});

export type Station = z.infer<typeof station>;
