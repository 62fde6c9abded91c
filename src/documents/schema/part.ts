import { z } from 'zod';
import { angleDeg, distanceMm, id, lengthMm, positionMm, title, version } from './scalar.js';

/** Where the profile has which diameter; z from the datum end, mm. */
const profileStation = z.strictObject({ z: positionMm, diameter: lengthMm });

const surface = z.strictObject({
  id,
  from: positionMm.describe('z of the lower edge, mm; also z0 of its sheet'),
  to: positionMm.describe('z of the upper edge, mm'),
  clearance: distanceMm.default(0).describe('room kept to both edges, along the surface, mm'),
});

const common = {
  id,
  clearance: distanceMm.default(0).describe('room kept all round, along the surface, mm'),
};

const clip = z.strictObject({
  ...common,
  kind: z.literal('clip'),
  from: positionMm,
  to: positionMm,
  angle: angleDeg.default(0).describe('of the centre line, degrees from the index line'),
  width: lengthMm.describe('across the clip, along the ring, mm'),
  shadow: distanceMm.default(0).describe('how far beyond the clip on every side the cutter cannot reach, mm'),
});

const band = z.strictObject({ ...common, kind: z.literal('band'), from: positionMm, to: positionMm });
const thread = z.strictObject({ ...common, kind: z.literal('thread'), from: positionMm, to: positionMm });

const window = z.strictObject({
  ...common,
  kind: z.literal('window'),
  outline: z
    .array(z.strictObject({ z: positionMm, angle: angleDeg }))
    .min(3)
    .max(2000)
    .describe('corners in order; angles run on across the seam (350, 370), they do not jump'),
});

export const keepout = z.discriminatedUnion('kind', [clip, band, thread, window]);

export const part = z.strictObject({
  kind: z.literal('part'),
  version,
  name: title,
  material: id,
  wall: lengthMm.describe('thinnest wall under any surface that is cut, mm'),
  profile: z.array(profileStation).min(2).max(500),
  surfaces: z.array(surface).min(1).max(50),
  keepouts: z.array(keepout).max(200).default([]),
});

export type Part = z.infer<typeof part>;
export type PartSurface = Part['surfaces'][number];
export type Keepout = z.infer<typeof keepout>;
