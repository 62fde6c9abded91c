import { z } from 'zod';
import { angleDeg, diameterMm, distanceMm, id, lengthMm, positionMm, title, version } from './scalar.js';

/** Where the profile has which diameter; z from the datum end, mm. */
const profileStation = z.strictObject({
  z: positionMm.describe('from the datum end, mm'),
  diameter: diameterMm.describe('there, mm'),
});

const surface = z.strictObject({
  id: id.describe('of the surface, within this part'),
  from: positionMm.describe('z of the lower edge, mm; also z0 of its sheet'),
  to: positionMm.describe('z of the upper edge, mm'),
  clearance: distanceMm.default(0).describe('room kept to both edges, along the surface, mm'),
});

const common = {
  id: id.describe('of the keep-out, within this part'),
  clearance: distanceMm.default(0).describe('room kept all round, along the surface, mm'),
};

const height = distanceMm
  .default(0)
  .describe('how far it stands proud of the part, mm; rapid moves clear the highest place of the part');

const clip = z.strictObject({
  ...common,
  kind: z.literal('clip').describe('a clip standing over the surface'),
  from: positionMm.describe('z of its lower end, mm'),
  to: positionMm.describe('z of its upper end, mm'),
  angle: angleDeg.default(0).describe('of the centre line, degrees from the index line'),
  width: lengthMm.describe('across the clip, along the ring, mm'),
  shadow: distanceMm.default(0).describe('how far beyond the clip on every side the cutter cannot reach, mm'),
  height,
});

const ring = {
  from: positionMm.describe('z of its lower edge, mm'),
  to: positionMm.describe('z of its upper edge, mm'),
};
const band = z.strictObject({
  ...common,
  kind: z.literal('band').describe('a ring all round'),
  ...ring,
  height,
});
const thread = z.strictObject({
  ...common,
  kind: z.literal('thread').describe('a thread all round'),
  ...ring,
});

const window = z.strictObject({
  ...common,
  kind: z.literal('window').describe('an outline of corners, such as an inlay or a hole'),
  outline: z
    .array(z.strictObject({ z: positionMm.describe('mm'), angle: angleDeg.describe('degrees') }))
    .min(3)
    .max(2000)
    .describe('corners in order; angles run on across the seam (350, 370), they do not jump'),
});

export const keepout = z.discriminatedUnion('kind', [clip, band, thread, window]);

/** Deepest cut as a share of the wall, so that two fifths of it stay. Common practice, no source. */
export const DEEPEST_OF_WALL = 0.6;

export const part = z.strictObject({
  kind: z.literal('part').describe('what this document is'),
  version,
  name: title.describe('as the bench calls it'),
  material: id.describe('a document in materials/'),
  wall: lengthMm.describe('thinnest wall under any surface that is cut, mm'),
  profile: z.array(profileStation).min(2).max(500).describe('diameters along the axis, z rising'),
  surfaces: z.array(surface).min(1).max(50).describe('straight stretches that may be cut'),
  keepouts: z.array(keepout).max(200).default([]).describe('places no mark may touch'),
});

export type Part = z.infer<typeof part>;
export type PartSurface = Part['surfaces'][number];
export type Keepout = z.infer<typeof keepout>;
