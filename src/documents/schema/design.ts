import { z } from 'zod';
import {
  angleDeg,
  depthMm,
  distanceMm,
  heightMm,
  id,
  landMm,
  line,
  positionMm,
  riseMm,
  title,
  version,
} from './scalar.js';

const zRange = z.tuple([positionMm, positionMm]);
const angleRange = z.tuple([angleDeg, angleDeg]);

/**
 * Where a mark sits. A single number fixes the mark's middle; a pair is a zone the whole mark stays in and may
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
  heightMm,
  z.strictObject({ min: heightMm.describe('smallest, mm'), max: heightMm.describe('largest, mm') }),
]);

const cut = {
  id: id.describe('of the mark, within this design'),
  surface: id.describe('of the part, which the mark is cut in'),
  place: place.describe('where on the surface'),
  cutter: id.describe('a document in cutters/'),
  depth: depthMm.describe('along the surface normal, mm; of a groove, the greatest'),
};

const land = landMm
  .optional()
  .describe('least width that must be left standing between cuts, mm; not asked when left out');

const way = z
  .enum(['trace', 'clear', 'groove'])
  .default('trace')
  .describe('along lines and edges; the area cut flat; or as deep as the area is wide');

const hatch = angleDeg
  .optional()
  .describe(
    'way clear: by parallel lines at this angle, degrees from the ring; rings of lines when left out',
  );

const strategyFields = { way, hatch };

const mayDiffer = z
  .array(line(40))
  .max(200)
  .default([])
  .describe('letters (or the drawing) of which a part may be lost, filled in or cut shut');

const reading = z
  .enum(['up', 'down'])
  .default('up')
  .describe('ring, helix: tops toward +z (up) or the datum end (down); lengthwise: it runs that way');

const lettered = {
  ...cut,
  baseline: z
    .enum(['ring', 'lengthwise', 'helix'])
    .describe('round the part, along a straight line on it, or climbing round it'),
  pitch: z
    .number()
    .min(-1000)
    .max(1000)
    .optional()
    .describe('helix: how far it climbs in a turn, mm; less than 0 falls'),
  reading,
  font: id.describe('one burin carries, or one of the workshop'),
  size: size.describe('height of capitals, mm; a range is fitted'),
  spacing: z.number().min(-0.5).max(5).default(0).describe('added between letters, in letter heights'),
  figures: z
    .enum(['tabular', 'proportional', 'old-style'])
    .default('tabular')
    .describe('all of one width, of widths of their own, or with heads and tails'),
  capitals: z
    .enum(['as-typed', 'small', 'all-small'])
    .default('as-typed')
    .describe('small: lower case as small capitals; all-small: capitals too'),
  land,
  'may-differ': mayDiffer,
  ...strategyFields,
};

const rows = {
  leading: z.number().min(0.5).max(10).default(1.6).describe('from row to row, in letter heights'),
  align: z
    .enum(['middle', 'left', 'right', 'justified'])
    .default('middle')
    .describe('how rows stand under one another'),
  substitute: z
    .boolean()
    .default(false)
    .describe('set the nearest letter where the font lacks one, and say so'),
};

const ringClosing = z.strictObject({
  separator: z.string().max(20).default(' ').describe('between the last word and the first, such as " · "'),
  times: z
    .union([z.number().int().min(1).max(500), z.literal('most')])
    .default(1)
    .describe('how often the words stand round the ring'),
});

const repeat = z.strictObject({
  count: z.number().int().min(1).max(2000).describe('round the ring'),
  rows: z.number().int().min(1).max(500).default(1).describe('along the part'),
  rise: riseMm.optional().describe('from row to row along the surface, mm; needed with several rows'),
  step: z.number().min(-1).max(1).default(0).describe('each row is turned by this part of a repeat'),
  mirror: z.enum(['none', 'alternate']).default('none').describe('alternate: every second one is mirrored'),
  form: z
    .enum(['undistorted', 'stretched'])
    .default('undistorted')
    .describe('as drawn, or drawn out to fill its share of the ring at every height'),
});

const meets = z
  .enum(['refuse', 'drop', 'trim'])
  .default('refuse')
  .describe('what becomes of what would touch a keep-out: refused, left out whole, or cut away at it');

const apart = distanceMm
  .default(0.3)
  .describe('room kept to the other marks where it is laid round the part, mm');

const order = z
  .array(z.enum(['small-first', 'one-way']))
  .max(2)
  .default([])
  .describe('beside short ways in the air: small ones first; every line run as it was drawn');

const motif = z.strictObject({
  ...cut,
  kind: z.literal('motif').describe('a drawing'),
  artwork: id.describe('a drawing in artwork/, without its ending .svg'),
  baseline: z
    .enum(['ring', 'lengthwise'])
    .default('ring')
    .describe('its foot toward the datum end, or turned'),
  reading,
  size: size.describe('height of the drawing, mm; a range is fitted where it neither repeats nor is trimmed'),
  strokes: z
    .enum(['line', 'outline', 'leave'])
    .default('line')
    .describe('drawn strokes: followed as lines, turned to outlines, or left uncut'),
  land,
  'may-differ': mayDiffer,
  ...strategyFields,
  repeat: repeat.optional().describe('round the ring and in rows; once when left out'),
  meets,
  apart,
  order,
});

const round = z.number().int().min(1).max(2000).describe('round the ring');
const amplitude = distanceMm.describe('from the middle of a line to its crest, mm');
const lines = z.number().int().min(1).max(500).describe('lines along the part');
const rise = riseMm.describe('from line to line along the surface, mm');
const step = z.number().min(-1).max(1).default(0);

const engineTurned = z.discriminatedUnion('form', [
  z.strictObject({
    form: z.literal('waves').describe('rows of waves'),
    count: round,
    amplitude,
    rows: lines,
    rise,
    step: step.describe('each row is moved by this part of a wave'),
  }),
  z.strictObject({
    form: z.literal('barleycorn').describe('waves half a wave on in every row, with grains between'),
    count: round,
    amplitude,
    rows: lines,
    rise,
  }),
  z.strictObject({
    form: z.literal('basket').describe('rows of waves side by side, then as many half a wave on'),
    count: round,
    amplitude,
    rows: lines,
    rise,
    strands: z.number().int().min(1).max(100).default(3).describe('rows that run side by side'),
  }),
  z.strictObject({
    form: z.literal('moire').describe('two trains of waves over one another'),
    count: round,
    second: round.describe('waves of the second train round the ring'),
    amplitude,
    rows: lines,
    rise,
    step: step.describe('each row is moved by this part of a wave, the second train the other way'),
  }),
  z.strictObject({
    form: z.literal('rosettes').describe('figures of nested lobed curves'),
    count: round,
    rows: lines.default(1).describe('rosettes along the part'),
    rise: rise.default(1).describe('from rosette to rosette along the surface, mm'),
    step: step.describe('each row is turned by this part of a rosette'),
    radius: z.number().min(0.05).max(500).describe('of the outermost curve at its crests, mm'),
    lobes: z.number().int().min(2).max(200).describe('of a curve'),
    depth: z.number().min(0).max(0.9).default(0.15).describe('how far a lobe stands out, of its radius'),
    curves: z.number().int().min(1).max(100).describe('within one another'),
  }),
]);

export const mark = z.discriminatedUnion('kind', [
  z.strictObject({ ...lettered, kind: z.literal('number').describe('the number of the piece') }),
  z.strictObject({
    ...lettered,
    ...rows,
    kind: z.literal('inscription').describe('the same words on every piece'),
    text: z
      .union([line(200), z.array(line(200)).min(1).max(40)])
      .describe('the words; a list is rows of them'),
    closes: ringClosing.optional().describe('the words lead round the ring back into themselves'),
    arc: z.number().min(1).max(350).optional().describe('degrees of the ring the words are spread over'),
  }),
  z.strictObject({
    ...lettered,
    ...rows,
    kind: z.literal('dedication').describe("the piece's own words, from the edition's list of dedications"),
  }),
  motif,
  z.strictObject({
    ...cut,
    kind: z.literal('pattern').describe('an engine-turned pattern'),
    pattern: engineTurned.describe('its lines'),
    meets: z
      .enum(['refuse', 'drop', 'trim'])
      .default('trim')
      .describe('what becomes of lines that come to a keep-out'),
    apart,
    order,
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
/** A mark made of letters. */
export type LetteredMark = Extract<Mark, { font: string }>;
/** A mark made of drawings. */
export type DrawnMark = Exclude<Mark, LetteredMark>;
export type MotifMark = Extract<Mark, { kind: 'motif' }>;
export type PatternMark = Extract<Mark, { kind: 'pattern' }>;
export type CutStrategy = MotifMark['way'];

export const isLettered = (mark: Mark): mark is LetteredMark => 'font' in mark;
