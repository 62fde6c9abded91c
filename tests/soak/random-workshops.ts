import { mkdirSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { stringify } from 'yaml';

/** Numbers from 0 to 1 that a seed decides: mulberry32, public domain. */
export function randomFrom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), state | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

type Document = Record<string, unknown>;

/** Draws values: mostly such as a bench would write, some from the whole range of the schema, some at its very ends. */
class Dice {
  readonly #random: () => number;

  constructor(
    seed: number,
    /** How often a value is taken from the whole range. */
    readonly wild: number,
  ) {
    this.#random = randomFrom(seed);
  }

  chance(share: number): boolean {
    return this.#random() < share;
  }

  between(low: number, high: number): number {
    return low + (high - low) * this.#random();
  }

  whole(low: number, high: number): number {
    return Math.floor(this.between(low, high + 1));
  }

  of<T>(...choices: readonly T[]): T {
    return choices[this.whole(0, choices.length - 1)]!;
  }

  /** A measure that is usually from `low` to `high`, and may be anything from `least` to `most`. */
  measure(low: number, high: number, least: number, most: number): number {
    if (!this.chance(this.wild)) return round(this.between(low, high));
    if (this.chance(0.4)) return this.of(least, most);
    // Evenly by orders of magnitude, where the range has them.
    if (least > 0) return Number(Math.exp(this.between(Math.log(least), Math.log(most))).toPrecision(4));
    return Number(this.between(least, most).toPrecision(6));
  }

  count(low: number, high: number, least: number, most: number): number {
    return Math.max(least, Math.min(most, Math.round(this.measure(low, high, Math.max(least, 1), most))));
  }
}

const round = (n: number): number => Math.round(n * 100) / 100;

export interface RandomWorkshop {
  /** Documents and drawings by their path in the workshop. */
  readonly files: Readonly<Record<string, string>>;
}

/** A workshop of one part, one cutter and station, a design of some marks and an edition: of every value a schema takes. */
export function randomWorkshop(seed: number): RandomWorkshop {
  const dice = new Dice(seed, seed % 3 === 0 ? 0.02 : seed % 3 === 1 ? 0.08 : 0.2);
  const part = partOf(dice);
  const cutter = cutterOf(dice);
  const design = designOf(dice, part, cutter);
  const documents: Record<string, Document> = {
    'workshop.yaml': { kind: 'workshop', version: 1, name: 'Random bench' },
    'materials/stuff.yaml': {
      kind: 'material',
      version: 1,
      name: 'Stuff',
      family: dice.of('metal', 'resin', 'ebonite', 'wood', 'lacquer'),
      pass: dice.measure(0.05, 0.3, 0.001, 10),
      feed: dice.measure(100, 600, 0.1, 100_000),
    },
    'parts/part.yaml': part,
    'cutters/cutter.yaml': cutter,
    'stations/station.yaml': stationOf(dice),
    'designs/design.yaml': design,
    'editions/edition.yaml': editionOf(dice),
  };
  const files = Object.fromEntries(Object.entries(documents).map(([file, doc]) => [file, stringify(doc)]));
  return { files: { ...files, 'artwork/drawing.svg': drawingOf(dice) } };
}

/** Writes a workshop into a folder. */
export function writeWorkshop(dir: string, { files }: RandomWorkshop): void {
  for (const [file, text] of Object.entries(files)) {
    mkdirSync(dirname(join(dir, file)), { recursive: true });
    writeFileSync(join(dir, file), text);
  }
}

interface Surfaced extends Document {
  readonly surfaces: { id: string; from: number; to: number }[];
  readonly keepouts: { id: string; kind: string }[];
}

function partOf(dice: Dice): Surfaced {
  const length = dice.measure(20, 80, 1, 1000);
  const first = dice.measure(8, 20, 0.1, 500);
  const last = dice.chance(0.4) ? first : dice.measure(first * 0.8, first * 1.2, 0.1, 500);
  const end = round(length) || 1;
  const keepouts: Surfaced['keepouts'] = [];
  const z = (share: number): number => round(end * share);
  if (dice.chance(0.6))
    keepouts.push({
      id: 'clip',
      kind: 'clip',
      ...{ from: z(0.2), to: z(0.8), angle: dice.measure(0, 360, -36_000, 36_000) },
      ...{ width: dice.measure(2, 5, 0.001, 1000), shadow: dice.measure(0, 1, 0, 1000) },
      ...{ clearance: dice.measure(0, 0.6, 0, 1000), height: dice.measure(0, 4, 0, 1000) },
    } as Surfaced['keepouts'][number]);
  if (dice.chance(0.4))
    keepouts.push({
      id: 'band',
      kind: dice.of('band', 'thread'),
      ...{ from: z(0), to: z(dice.between(0.02, 0.2)), clearance: dice.measure(0, 0.6, 0, 1000) },
    } as Surfaced['keepouts'][number]);
  if (dice.chance(0.4)) keepouts.push(windowOf(dice, end));
  return {
    kind: 'part',
    version: 1,
    name: 'Part',
    material: 'stuff',
    wall: dice.measure(0.8, 2, 0.001, 100),
    profile: [
      { z: 0, diameter: round(first) || 0.1 },
      { z: end, diameter: round(last) || 0.1 },
    ],
    surfaces: [sideOf(dice, end)],
    keepouts,
  };
}

const sideOf = (dice: Dice, to: number) => ({
  id: 'side',
  from: 0,
  to,
  clearance: dice.measure(0, 1, 0, 1000),
});

/** A window of many corners about a middle, round or ragged. */
function windowOf(dice: Dice, end: number): Surfaced['keepouts'][number] {
  const corners = dice.count(4, 24, 3, 2000);
  const middle = dice.between(0, 360);
  const ragged = dice.chance(0.3);
  const outline = Array.from({ length: corners }, (_, i) => {
    const turn = (2 * Math.PI * i) / corners;
    const far = ragged ? dice.between(0.5, 1) : 1;
    return {
      z: Number((end * (0.5 + 0.08 * far * Math.sin(turn))).toFixed(6)),
      angle: Number((middle + 15 * far * Math.cos(turn)).toFixed(6)),
    };
  });
  return { id: 'window', kind: 'window', outline, clearance: dice.measure(0, 0.6, 0, 1000) } as never;
}

function cutterOf(dice: Dice): Document {
  const common = {
    kind: 'cutter',
    version: 1,
    name: 'Cutter',
    feed: dice.measure(100, 600, 0.1, 100_000),
    plunge: dice.measure(30, 120, 0.1, 100_000),
    depth: dice.measure(0.3, 1, 0.001, 10),
    ...(dice.chance(0.5) ? { pass: dice.measure(0.05, 0.3, 0.001, 10) } : {}),
  };
  const speed = dice.measure(8000, 30_000, 1, 200_000);
  return dice.of<() => Document>(
    () => ({ ...common, shape: 'drag', width: dice.measure(0.05, 0.15, 0.005, 10) }),
    () => ({
      ...common,
      ...{ shape: 'cone', speed, tip: dice.measure(0.02, 0.1, 0, 10), angle: dice.measure(30, 90, 1, 170) },
    }),
    () => ({ ...common, shape: 'ball', speed, diameter: dice.measure(0.2, 1, 0.02, 50) }),
    () => ({ ...common, shape: 'flat', speed, diameter: dice.measure(0.1, 0.4, 0.02, 50) }),
    () => ({
      ...common,
      ...{ shape: dice.chance(0.1) ? 'beam' : 'drag', width: dice.measure(0.05, 0.15, 0.005, 10) },
    }),
  )();
}

function stationOf(dice: Dice): Document {
  const travel = (most: number) => ({
    min: -dice.measure(most / 2, most, 1, 1000),
    max: dice.measure(most / 2, most, 1, 1000),
  });
  return {
    kind: 'station',
    version: 1,
    name: 'Station',
    setup: dice.of('level', 'tilted'),
    axes: {
      x: {
        sign: dice.of(1, -1),
        offset: dice.measure(0, 10, -1000, 1000),
        ...travel(400),
        speed: dice.measure(1000, 6000, 1, 1_000_000),
      },
      a: {
        sign: dice.of(1, -1),
        offset: dice.measure(0, 10, -3600, 3600),
        speed: dice.measure(10_000, 60_000, 1, 1_000_000),
      },
      z: {
        zero: dice.of('axis', 'touch'),
        ...{
          offset: dice.measure(0, 10, -1000, 1000),
          ...travel(200),
          speed: dice.measure(1000, 6000, 1, 1_000_000),
        },
      },
    },
    safe: dice.measure(3, 10, 0.001, 1000),
    approach: dice.measure(0.2, 2, 0.001, 1000),
    feed: dice.of('inverse-time', 'per-minute'),
    decimals: dice.whole(3, 6),
    before: dice.chance(0.3)
      ? [dice.of('M3 S12000', 'G54', 'M8', 'M6 T1', 'G64 P0.01', 'T1', 'S9', 'F0')]
      : [],
    after: dice.chance(0.3) ? [dice.of('M5', 'M9', 'G55', 'M30', 'M2')] : [],
  };
}

function designOf(dice: Dice, part: Surfaced, cutter: Document): Document {
  const end = part.surfaces[0]!.to;
  const many = dice.chance(dice.wild / 4) ? dice.whole(4, 12) : dice.whole(1, 3);
  const marks = Array.from({ length: many }, (_, i) => {
    // Each has its own stretch of the side, so that many fit.
    const [from, to] = [(end * (i + 0.1)) / many, (end * (i + 0.9)) / many];
    return markOf(dice, [from, to], `mark-${i}`, part, cutter);
  });
  return { kind: 'design', version: 1, name: 'Design', part: 'part', marks };
}

type Stretch = readonly [from: number, to: number];

function placeOf(dice: Dice, [from, to]: Stretch, part: Surfaced, fixed: boolean): Document {
  const middle = round(from + (to - from) * dice.between(0.4, 0.6));
  const zone = !fixed && dice.chance(0.6);
  const z = zone ? [round(from), round(to)] : middle;
  if (part.keepouts.some((k) => k.kind === 'clip') && dice.chance(0.5)) return { z, opposite: 'clip' };
  const angle = dice.measure(0, 360, -36_000, 36_000);
  if (fixed || dice.chance(0.6)) return { z, angle };
  return { z, angle: dice.of<unknown>('any', [angle, angle + dice.between(1, 359)]) };
}

/** What a cutter of a shape can do. */
const waysOf = (shape: string): string[] => {
  if (shape === 'cone') return ['trace', 'clear', 'groove'];
  return shape === 'ball' || shape === 'flat' ? ['trace', 'clear'] : ['trace'];
};

const WORDS = ['Tide', 'Nine Lights', 'I', 'Ångström & Co.', 'W', 'MMXXVI', 'a b c', 'No. 8', 'l'];

function markOf(dice: Dice, at: Stretch, id: string, part: Surfaced, cutter: Document): Document {
  const kind = dice.of('number', 'number', 'inscription', 'inscription', 'motif', 'pattern');
  const cut = {
    ...{
      id,
      surface: 'side',
      cutter: 'cutter',
      depth: dice.measure(0.03, Math.min(0.2, cutter.depth as number), 0.001, 10),
      kind,
    },
  };
  if (kind === 'pattern')
    return {
      ...cut,
      place: placeOf(dice, at, part, true),
      pattern: patternOf(dice),
      meets: dice.of('refuse', 'drop', 'trim'),
      apart: dice.measure(0.1, 0.5, 0, 1000),
    };
  const way = dice.chance(0.02)
    ? dice.of('trace', 'clear', 'groove')
    : dice.of(...waysOf(cutter.shape as string));
  const hatch = way === 'clear' && dice.chance(0.5) ? { hatch: dice.measure(0, 90, -36_000, 36_000) } : {};
  const land = dice.chance(0.3) ? { land: dice.measure(0.02, 0.1, 0, 1000) } : {};
  if (kind === 'motif') return { ...cut, ...motifOf(dice, at, part), way, ...hatch, ...land };
  const baseline = dice.of('ring', 'ring', 'lengthwise', 'helix');
  const pitch = baseline === 'helix' ? { pitch: dice.measure(2, 30, 0.1, 1000) * dice.of(1, -1) } : {};
  return {
    ...cut,
    ...{ way, ...hatch, ...land, baseline, ...pitch },
    place: placeOf(dice, at, part, false),
    reading: dice.of('up', 'down'),
    font: dice.of('burin-plain', 'burin-roman', 'garamond', 'jost', 'cormorant'),
    size: sizeOf(dice),
    spacing: dice.measure(0, 0.2, -0.5, 5),
    figures: dice.of('tabular', 'proportional', 'old-style'),
    ...(kind === 'inscription' ? inscriptionOf(dice, baseline) : {}),
  };
}

function sizeOf(dice: Dice): unknown {
  const min = dice.measure(0.6, 1.6, 0.1, 200);
  return dice.chance(0.3) ? min : { min, max: Math.min(200, min * dice.of(1, 1.5, 2, 100)) };
}

function inscriptionOf(dice: Dice, baseline: string): Document {
  const text = dice.chance(dice.wild / 3) ? 'W'.repeat(200) : dice.of(...WORDS);
  const rows = dice.chance(0.2)
    ? Array.from({ length: dice.count(2, 4, 1, 40) }, () => dice.of(...WORDS))
    : text;
  const common = {
    substitute: true,
    leading: dice.measure(1.2, 2, 0.5, 10),
    align: dice.of('middle', 'left', 'right', 'justified'),
  };
  if (baseline !== 'ring' || Array.isArray(rows) || dice.chance(0.6)) return { ...common, text: rows };
  if (dice.chance(0.5)) return { ...common, text, arc: dice.measure(60, 180, 1, 350) };
  return {
    ...common,
    text,
    closes: { separator: dice.of(' ', ' · ', ''), times: dice.of<unknown>('most', dice.count(1, 3, 1, 500)) },
  };
}

function motifOf(dice: Dice, at: Stretch, part: Surfaced): Document {
  const strokes = dice.of('line', 'outline', 'leave');
  const baseline = dice.of('ring', 'lengthwise');
  if (dice.chance(0.5))
    return {
      artwork: 'drawing',
      strokes,
      baseline,
      place: placeOf(dice, at, part, false),
      size: sizeOf(dice),
      meets: dice.of('refuse', 'trim'),
    };
  const rows = dice.count(1, 3, 1, 500);
  return {
    ...{
      artwork: 'drawing',
      strokes,
      baseline,
      place: placeOf(dice, at, part, true),
      size: dice.measure(1, 4, 0.1, 200),
    },
    repeat: {
      ...{
        count: dice.count(4, 12, 1, 2000),
        rows,
        rise: dice.measure(2, 6, 0.02, 1000),
        step: dice.measure(0, 0.5, -1, 1),
      },
      form: dice.of('undistorted', 'stretched'),
    },
    meets: dice.of('refuse', 'drop', 'trim'),
    apart: dice.measure(0.1, 0.5, 0, 1000),
  };
}

function patternOf(dice: Dice): Document {
  const count = dice.count(8, 40, 1, 2000);
  const rows = dice.count(2, 20, 1, 500);
  const line = {
    count,
    rows,
    amplitude: dice.measure(0.2, 1, 0, 1000),
    rise: dice.measure(0.5, 2, 0.02, 1000),
  };
  const step = dice.measure(0, 0.5, -1, 1);
  return dice.of<() => Document>(
    () => ({ form: 'waves', ...line, step }),
    () => ({ form: 'barleycorn', ...line }),
    () => ({ form: 'basket', ...line, strands: dice.count(2, 4, 1, 100) }),
    () => ({ form: 'moire', ...line, second: dice.count(8, 40, 1, 2000), step }),
    () => ({
      ...{ form: 'rosettes', count: dice.count(3, 10, 1, 2000), rows: dice.count(1, 3, 1, 500) },
      ...{ rise: dice.measure(4, 8, 0.02, 1000), step, radius: dice.measure(1, 3, 0.05, 500) },
      ...{
        lobes: dice.count(5, 12, 2, 200),
        depth: dice.measure(0.1, 0.3, 0, 0.9),
        curves: dice.count(2, 6, 1, 100),
      },
    }),
  )();
}

function editionOf(dice: Dice): Document {
  const series = Array.from({ length: dice.whole(1, 2) }, (_, i) => {
    const roman = dice.chance(0.3);
    const from = dice.chance(0.9) ? 1 : dice.whole(1, roman ? 3000 : 90_000);
    const to = Math.min(roman ? 3999 : 99_999, from + dice.count(0, 60, 0, dice.chance(0.1) ? 5000 : 300));
    return {
      ...{ id: `s${i}`, title: 'Series', from, to, figures: roman ? 'roman' : 'arabic' },
      ...(dice.chance(0.5) ? { total: { joiner: '/' } } : {}),
      before: 'AB'[i],
    };
  });
  return { kind: 'edition', version: 1, name: 'Edition', designs: ['design'], series };
}

function drawingOf(dice: Dice): string {
  const shapes = Array.from({ length: dice.count(1, 4, 1, 200) }, () => {
    const [x, y, r] = [dice.between(0, 100), dice.between(0, 100), dice.measure(5, 40, 0.0001, 1e6)];
    const ink = dice.of(
      'fill="black"',
      'fill="none" stroke="black" stroke-width="2"',
      'fill="black" stroke="black"',
    );
    return dice.of(
      `<circle cx="${x}" cy="${y}" r="${r}" ${ink}/>`,
      `<rect x="${x}" y="${y}" width="${r}" height="${r * dice.between(0.1, 2)}" ${ink}/>`,
      `<path d="M${x} ${y} q ${r} ${r} ${r} 0 t ${r} 0 l -${r} ${r} z" ${ink}/>`,
    );
  });
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 100">${shapes.join('')}</svg>`;
}
