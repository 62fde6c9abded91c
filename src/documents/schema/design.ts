import { z } from 'zod';
import { angleDeg, id, lengthMm, line, positionMm, title, version } from './scalar.js';

const zRange = z.tuple([positionMm, positionMm]);
const angleRange = z.tuple([angleDeg, angleDeg]);

/**
 * Where a mark sits. A single figure fixes the mark's middle; a pair is a zone the whole mark stays in and may
 * slide along. `opposite` names a keep-out and is the angle half a turn from its middle.
 */
const place = z.strictObject({
  z: z.union([positionMm, zRange]).describe('middle of the mark, or the zone it stays in, mm'),
  angle: z
    .union([angleDeg, angleRange, z.literal('any')])
    .optional()
    .describe('middle of the mark, the zone it stays in, or any; degrees; left out with `opposite`'),
  opposite: id.optional().describe('a keep-out of the part, such as its clip'),
});

const size = z.union([
  lengthMm,
  z.strictObject({ min: lengthMm.describe('smallest, mm'), max: lengthMm.describe('largest, mm') }),
]);

const common = {
  id: id.describe('of the mark, within this design'),
  surface: id.describe('of the part, which the mark is cut in'),
  baseline: z.enum(['ring', 'lengthwise']).describe('round the part, or along a straight line on it'),
  reading: z
    .enum(['up', 'down'])
    .default('up')
    .describe(
      'ring: tops of letters toward +z (up) or the datum end (down); lengthwise: the text runs that way',
    ),
  place: place.describe('where on the surface'),
  font: id.describe('one burin carries, or one of the workshop'),
  size: size.describe('height of capitals, mm; a range is fitted'),
  spacing: z.number().min(-0.5).max(5).default(0).describe('added between letters, in letter heights'),
  figures: z
    .enum(['tabular', 'proportional'])
    .default('tabular')
    .describe('all of one width, or as the font draws them'),
  cutter: id.describe('a document in cutters/'),
  depth: lengthMm.describe('along the surface normal, mm'),
};

export const mark = z.discriminatedUnion('kind', [
  z.strictObject({ ...common, kind: z.literal('number').describe('the number of the piece') }),
  z.strictObject({
    ...common,
    kind: z.literal('inscription').describe('the same words on every piece'),
    text: line(200).describe('the words'),
  }),
]);

export const design = z.strictObject({
  kind: z.literal('design').describe('what this document is'),
  version,
  name: title.describe('as the bench calls it'),
  part: id.describe('a document in parts/'),
  marks: z.array(mark).min(1).max(100).describe('what is cut, in order'),
});

export type Design = z.infer<typeof design>;
export type Mark = z.infer<typeof mark>;
export type Place = z.infer<typeof place>;
