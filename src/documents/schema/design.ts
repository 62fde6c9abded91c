import { z } from 'zod';
import { angleDeg, id, lengthMm, line, positionMm, title, version } from './scalar.js';

const zRange = z.tuple([positionMm, positionMm]);
const angleRange = z.tuple([angleDeg, angleDeg]);

/**
 * Where a mark sits. A single figure fixes the mark's middle; a pair is a zone the whole mark stays in and may
 * slide along. `opposite` names a keep-out and is the angle half a turn from its middle.
 */
const place = z.strictObject({
  z: z.union([positionMm, zRange]),
  angle: z
    .union([angleDeg, angleRange, z.literal('any')])
    .optional()
    .describe('left out with `opposite`'),
  opposite: id.optional().describe('a keep-out of the part, such as its clip'),
});

const size = z.union([lengthMm, z.strictObject({ min: lengthMm, max: lengthMm })]);

const common = {
  id,
  surface: id,
  baseline: z.enum(['ring', 'lengthwise']),
  reading: z
    .enum(['up', 'down'])
    .default('up')
    .describe(
      'ring: tops of letters toward +z (up) or the datum end (down); lengthwise: the text runs that way',
    ),
  place,
  font: id,
  size: size.describe('height of capitals, mm; a range is fitted'),
  spacing: z.number().min(-0.5).max(5).default(0).describe('added between letters, in letter heights'),
  figures: z.enum(['tabular', 'proportional']).default('tabular'),
  cutter: id,
  depth: lengthMm.describe('along the surface normal, mm'),
};

export const mark = z.discriminatedUnion('kind', [
  z.strictObject({ ...common, kind: z.literal('number') }),
  z.strictObject({ ...common, kind: z.literal('inscription'), text: line(200) }),
]);

export const design = z.strictObject({
  kind: z.literal('design'),
  version,
  name: title,
  part: id,
  marks: z.array(mark).min(1).max(100),
});

export type Design = z.infer<typeof design>;
export type Mark = z.infer<typeof mark>;
export type Place = z.infer<typeof place>;
