import { type Dice, round } from './dice.js';

export type Document = Record<string, unknown>;

/** What a design is made for. */
export interface Bench {
  readonly part: Document;
  readonly cutter: Document & { readonly shape: string; readonly depth: number };
  /** Length of the surface and its least diameter, mm. */
  readonly length: number;
  readonly diameter: number;
  /** The angle that clip and window stand away from, degrees. */
  readonly front: number;
  readonly clip: boolean;
  /** Nothing stands in the way of a mark that goes all round. */
  readonly open: boolean;
}

/** A stretch of the surface, mm along the axis. */
type Stretch = readonly [from: number, to: number];

/** One to three marks, each on its own stretch of the surface; seldom many. */
export function randomDesign(dice: Dice, bench: Bench): Document {
  const many = dice.count(1, 2, 1, 12);
  const [lower, upper] = [bench.length * 0.15, bench.length * 0.95];
  const share = (upper - lower) / many;
  const marks = Array.from({ length: many }, (_, i) =>
    markOf(dice, bench, [lower + share * (i + 0.05), lower + share * (i + 0.95)], `mark-${i}`),
  );
  return { kind: 'design', version: 1, name: 'Design', part: 'part', marks };
}

/** In the middle of its stretch at the front, or in a zone about it. */
function placeOf(dice: Dice, { front, clip, open }: Bench, [from, to]: Stretch, fixed = false): Document {
  const z = !fixed && dice.happens(0.5) ? [round(from), round(to)] : round((from + to) / 2);
  if (clip && dice.happens(0.5)) return { z, opposite: 'clip' };
  if (fixed || dice.happens(0.5)) return { z, angle: front };
  if (open && dice.happens(0.3)) return { z, angle: 'any' };
  const half = dice.value(90, 120, 0.001, 180);
  return { z, angle: [front - half, front + half] };
}

/** What a cutter of each shape can do. */
function strategiesOf(shape: string): string[] {
  if (shape === 'cone') return ['trace', 'clear', 'groove', 'groove'];
  return shape === 'ball' || shape === 'flat' ? ['trace', 'clear'] : ['trace'];
}

function markOf(dice: Dice, bench: Bench, at: Stretch, id: string): Document {
  const kind = dice.oneOf('number', 'number', 'inscription', 'inscription', 'motif', 'pattern');
  const depth = dice.value(0.03, 0.1, 0.001, Math.min(10, bench.cutter.depth));
  const cut = { id, kind, surface: 'side', cutter: 'cutter', depth };
  if (kind === 'pattern')
    return {
      ...{ ...cut, place: placeOf(dice, bench, at, true), pattern: patternOf(dice, bench, at[1] - at[0]) },
      meets: bench.open ? dice.oneOf('refuse', 'drop', 'trim', 'trim') : 'trim',
      apart: dice.value(0.1, 0.3, 0, 1000),
    };
  const way = dice.oneOf(...strategiesOf(bench.cutter.shape));
  const strategy = {
    ...{
      way,
      ...(way === 'clear' && dice.happens(0.5) ? { hatch: dice.value(0, 90, -36_000, 36_000) } : {}),
    },
    ...(dice.happens(0.15) ? { land: dice.value(0.001, 0.01, 0, 10) } : {}),
  };
  if (kind === 'motif') return { ...cut, ...strategy, ...motifOf(dice, bench, at) };
  return { ...cut, ...strategy, ...letteringOf(dice, bench, at, way, kind) };
}

const WORDS = ['Tide', 'Nine Lights', 'I', 'Ångström & Co.', 'W', 'MMXXVI', 'a b c', 'No. 8', 'Maker'];
/** Letters of these have an area, which clearing and grooves need. */
const OUTLINE_FONTS = ['garamond', 'jost', 'cormorant'];

function letteringOf(dice: Dice, bench: Bench, at: Stretch, way: string, kind: string): Document {
  // Lengthwise and on a helix a line needs a long stretch.
  const baseline = at[1] - at[0] > 18 ? dice.oneOf('ring', 'ring', 'lengthwise', 'helix') : 'ring';
  const pitch = baseline === 'helix' ? { pitch: dice.value(2, 8, 0.1, 1000) * dice.oneOf(1, -1) } : {};
  const fonts = way === 'trace' ? ['burin-plain', 'burin-roman', ...OUTLINE_FONTS] : OUTLINE_FONTS;
  // A cleared letter has to be wide enough for the cutter.
  const largest = Math.min(way === 'clear' ? 3 : 1.6, (at[1] - at[0]) / 4, bench.diameter / 8);
  const words = kind === 'inscription' ? inscriptionOf(dice, bench, baseline) : {};
  // What is spread over an arc or the ring stands at one z.
  const fixed = 'arc' in words || 'closes' in words;
  return {
    ...words,
    ...{ baseline, ...pitch, reading: dice.oneOf('up', 'down') },
    place: placeOf(dice, bench, at, fixed),
    font: dice.oneOf(...fonts),
    size: sizeOf(dice, Math.max(0.4, largest * 0.7), Math.max(0.5, largest)),
    spacing: dice.value(0, 0.1, -0.5, 5),
    figures: dice.oneOf('tabular', 'proportional', 'old-style'),
  };
}

function sizeOf(dice: Dice, low: number, high: number): unknown {
  const min = dice.value(low * 0.8, low, 0.1, 200);
  return dice.happens(0.3) ? min : { min, max: Math.max(min, dice.value(low, high * 1.5, 0.1, 200)) };
}

function inscriptionOf(dice: Dice, { open }: Bench, baseline: string): Document {
  const text = dice.happens(dice.extreme) ? 'W'.repeat(dice.integer(1, 200)) : dice.oneOf(...WORDS);
  const common = {
    ...{ substitute: true, leading: dice.value(1.2, 2, 0.5, 10) },
    align: dice.oneOf('middle', 'left', 'right', 'justified'),
  };
  const form = baseline === 'ring' ? dice.oneOf('line', 'line', 'line', 'rows', 'arc', 'closes') : 'line';
  if (form === 'rows')
    return { ...common, text: Array.from({ length: dice.count(2, 3, 1, 40) }, () => dice.oneOf(...WORDS)) };
  if (form === 'arc') return { ...common, text, arc: dice.value(60, 120, 1, 350) };
  if (form === 'closes' && open) {
    const times = dice.oneOf<unknown>('most', dice.count(1, 2, 1, 500));
    return { ...common, text, closes: { separator: dice.oneOf(' ', ' · ', ''), times } };
  }
  return { ...common, text };
}

function motifOf(dice: Dice, bench: Bench, at: Stretch): Document {
  const room = Math.min(at[1] - at[0], bench.diameter);
  const common = {
    artwork: 'drawing',
    strokes: dice.oneOf('line', 'outline'),
    baseline: dice.oneOf('ring', 'lengthwise'),
  };
  if (dice.happens(0.3))
    return { ...common, place: placeOf(dice, bench, at), size: sizeOf(dice, room * 0.3, room * 0.5) };
  if (dice.happens(0.4)) {
    // What is trimmed has one height and one place; now and then it is given others.
    const fixed = !dice.happens(dice.extreme);
    const size = fixed ? dice.value(room * 0.3, room * 0.5, 0.1, 200) : sizeOf(dice, room * 0.3, room * 0.5);
    return { ...common, place: placeOf(dice, bench, at, fixed), size, meets: 'trim' };
  }
  const rows = dice.count(1, 2, 1, 500);
  const rise = room / 4;
  return {
    ...{
      ...common,
      place: placeOf(dice, bench, at, true),
      size: dice.value(rise * 0.5, rise * 0.8, 0.1, 200),
    },
    repeat: {
      ...{ count: dice.count(2, 6, 1, 2000), rows, rise: dice.value(rise, rise * 1.2, 0.02, 1000) },
      ...{ step: dice.value(0, 0.5, -1, 1), form: dice.oneOf('undistorted', 'stretched') },
    },
    meets: bench.open ? dice.oneOf('refuse', 'drop', 'trim', 'trim') : 'trim',
    apart: dice.value(0.1, 0.3, 0, 1000),
  };
}

/** A pattern that fills at most its stretch. */
function patternOf(dice: Dice, { diameter }: Bench, stretch: number): Document {
  const rows = dice.count(2, 8, 1, 500);
  const rise = (stretch * 0.8) / (rows + 2);
  const line = {
    ...{ count: dice.count(8, 40, 1, 2000), rows },
    amplitude: dice.value(rise * 0.2, rise, 0, 1000),
    rise: dice.value(rise * 0.8, rise, 0.02, 1000),
  };
  const step = dice.value(0, 0.5, -1, 1);
  const form = dice.oneOf('waves', 'barleycorn', 'basket', 'moire', 'rosettes');
  if (form === 'waves') return { form, ...line, step };
  if (form === 'barleycorn') return { form, ...line };
  if (form === 'basket') return { form, ...line, strands: dice.count(2, 4, 1, 100) };
  if (form === 'moire') return { form, ...line, second: dice.count(8, 40, 1, 2000), step };
  const room = Math.min(stretch, diameter) / 3;
  return {
    ...{
      form,
      count: dice.count(3, 8, 1, 2000),
      rows: dice.count(1, 2, 1, 500),
      rise: dice.value(room, room * 1.2, 0.02, 1000),
    },
    ...{ step, radius: dice.value(room * 0.2, room * 0.4, 0.05, 500), lobes: dice.count(5, 12, 2, 200) },
    ...{ depth: dice.value(0.1, 0.3, 0, 0.9), curves: dice.count(2, 6, 1, 100) },
  };
}
