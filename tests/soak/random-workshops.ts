import { mkdirSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { stringify } from 'yaml';
import { Dice, round } from './dice.js';
import { type Bench, type Document, randomDesign } from './random-design.js';

export interface RandomWorkshop {
  /** Documents and drawings by their path in the workshop. */
  readonly files: Readonly<Record<string, string>>;
}

/** How often a value is extreme, by the seed; a workshop has some sixty values. */
const EXTREMES = [0, 0.01, 0.02, 0.04];

/**
 * A workshop of one part, one cutter, one station, a design of one to three marks and an edition. It is sound by
 * construction, but for a few values that are taken from the whole range which the schemas allow.
 */
export function randomWorkshop(seed: number): RandomWorkshop {
  const dice = new Dice(seed, EXTREMES[seed % EXTREMES.length]!);
  const bench = benchOf(dice);
  const documents: Record<string, Document> = {
    'workshop.yaml': { kind: 'workshop', version: 1, name: 'Random bench' },
    'materials/stuff.yaml': {
      ...{ kind: 'material', version: 1, name: 'Stuff' },
      family: dice.oneOf('metal', 'resin', 'ebonite', 'wood', 'lacquer'),
      pass: dice.value(0.05, 0.3, 0.001, 10),
      feed: dice.value(100, 600, 0.1, 100_000),
    },
    'parts/part.yaml': bench.part,
    'cutters/cutter.yaml': bench.cutter,
    'stations/station.yaml': stationOf(dice),
    'designs/design.yaml': randomDesign(dice, bench),
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

/** A part and a cutter: clip and window stand away from `front`, where the marks go; a band takes the lower end. */
function benchOf(dice: Dice): Bench {
  const length = Math.max(1, dice.value(25, 80, 1, 1000));
  const diameter = dice.value(9, 20, 0.1, 500);
  const other = dice.happens(0.4) ? diameter : dice.value(diameter * 0.9, diameter * 1.1, 0.1, 500);
  const front = dice.value(0, 360, -30_000, 30_000);
  const keepouts: Document[] = [];
  const clearance = () => dice.value(0, 0.5, 0, 1000);
  const clip = dice.happens(0.4);
  if (clip)
    keepouts.push({
      ...{
        id: 'clip',
        kind: 'clip',
        from: round(length * 0.3),
        to: round(length * 0.95),
        angle: front - 180,
      },
      ...{ width: dice.value(2, 4, 0.001, 1000), shadow: dice.value(0, 0.5, 0, 1000) },
      ...{ clearance: clearance(), height: dice.value(0, 2, 0, 1000) },
    });
  if (dice.happens(0.4))
    keepouts.push({
      ...{
        id: 'band',
        kind: dice.oneOf('band', 'thread'),
        from: 0,
        to: round(length * dice.between(0.02, 0.08)),
      },
      clearance: clearance(),
    });
  const window = dice.happens(0.3);
  if (window) keepouts.push(windowOf(dice, length, front + dice.between(150, 210)));
  const part = {
    ...{ kind: 'part', version: 1, name: 'Part', material: 'stuff' },
    wall: dice.value(0.8, 2, 0.001, 100),
    profile: [
      { z: 0, diameter },
      { z: length, diameter: other },
    ],
    surfaces: [{ id: 'side', from: 0, to: length, clearance: clearance() }],
    keepouts,
  };
  return {
    part,
    length,
    diameter: Math.min(diameter, other),
    front,
    clip,
    open: !clip && !window,
    cutter: cutterOf(dice),
  };
}

/** A window of many corners about a middle, round or ragged. */
function windowOf(dice: Dice, length: number, middle: number): Document {
  const corners = dice.count(4, 24, 3, 2000);
  const ragged = dice.happens(0.3);
  const outline = Array.from({ length: corners }, (_, i) => {
    const turn = (2 * Math.PI * i) / corners;
    const far = ragged ? dice.between(0.5, 1) : 1;
    return {
      z: Number((length * (0.5 + 0.08 * far * Math.sin(turn))).toFixed(6)),
      angle: Number((middle + 15 * far * Math.cos(turn)).toFixed(6)),
    };
  });
  return { id: 'window', kind: 'window', outline, clearance: dice.value(0, 0.5, 0, 1000) };
}

function cutterOf(dice: Dice): Bench['cutter'] {
  const common = {
    ...{ kind: 'cutter', version: 1, name: 'Cutter' },
    feed: dice.value(100, 600, 0.1, 100_000),
    plunge: dice.value(30, 120, 0.1, 100_000),
    depth: dice.value(0.3, 1, 0.001, 10),
    ...(dice.happens(0.5) ? { pass: dice.value(0.05, 0.3, 0.001, 10) } : {}),
  };
  const speed = dice.value(8000, 30_000, 1, 200_000);
  const shape = dice.happens(0.02)
    ? 'beam'
    : dice.oneOf('drag', 'drag', 'drag', 'cone', 'cone', 'cone', 'ball', 'flat');
  if (shape === 'cone')
    return { ...common, shape, speed, tip: dice.value(0.01, 0.03, 0, 10), angle: dice.value(15, 40, 1, 170) };
  if (shape === 'ball' || shape === 'flat')
    return { ...common, shape, speed, diameter: dice.value(0.03, 0.08, 0.02, 50) };
  return { ...common, shape, width: dice.value(0.02, 0.08, 0.005, 10) };
}

function stationOf(dice: Dice): Document {
  const travel = (most: number) => ({
    min: -dice.value(most / 2, most, 1, 1000),
    max: dice.value(most / 2, most, 1, 1000),
  });
  const speed = () => dice.value(1000, 6000, 1, 1_000_000);
  const zero = dice.oneOf('axis', 'touch');
  return {
    ...{ kind: 'station', version: 1, name: 'Station' },
    setup: zero === 'axis' ? 'level' : dice.oneOf('level', 'tilted'),
    axes: {
      x: { sign: dice.oneOf(1, -1), offset: dice.value(0, 10, -1000, 1000), ...travel(400), speed: speed() },
      a: {
        sign: dice.oneOf(1, -1),
        offset: dice.value(0, 10, -3600, 3600),
        speed: dice.value(10_000, 60_000, 1, 1_000_000),
      },
      z: { zero, offset: dice.value(0, 10, -1000, 1000), ...travel(200), speed: speed() },
    },
    safe: dice.value(3, 10, 0.001, 1000),
    approach: dice.value(0.2, 2, 0.001, 1000),
    feed: dice.oneOf('inverse-time', 'per-minute'),
    decimals: dice.integer(3, 6),
    before: dice.happens(0.3) ? [dice.oneOf('M3 S12000', 'G54', 'M8')] : [],
    after: dice.happens(0.3) ? [dice.oneOf('M5', 'M9')] : [],
  };
}

/** One or two short series; seldom a long one. */
function editionOf(dice: Dice): Document {
  const series = Array.from({ length: dice.integer(1, 2) }, (_, i) => {
    const roman = dice.happens(0.3);
    const from = dice.happens(0.8) ? 1 : dice.integer(1, roman ? 3000 : 90_000);
    const more = dice.count(0, 4, 0, 5000);
    return {
      ...{ id: `s${i}`, title: 'Series', from, to: Math.min(roman ? 3999 : 99_999, from + more) },
      figures: roman ? 'roman' : 'arabic',
      ...(dice.happens(0.3) ? { total: { joiner: '/' } } : {}),
      before: 'AB'[i],
    };
  });
  return { kind: 'edition', version: 1, name: 'Edition', designs: ['design'], series };
}

function drawingOf(dice: Dice): string {
  const shapes = Array.from({ length: dice.count(1, 3, 1, 200) }, () => {
    const [x, y, r] = [dice.integer(5, 60), dice.integer(5, 60), dice.value(15, 40, 0.0001, 1e6)];
    const ink = dice.oneOf(
      'fill="black"',
      'fill="none" stroke="black" stroke-width="2"',
      'fill="black" stroke="black"',
    );
    return dice.oneOf(
      `<circle cx="${x}" cy="${y}" r="${r}" ${ink}/>`,
      `<rect x="${x}" y="${y}" width="${r}" height="${r * dice.between(0.5, 2)}" ${ink}/>`,
      `<path d="M${x} ${y} q ${r} ${r} ${r} 0 t ${r} 0 l -${r} ${r} z" ${ink}/>`,
    );
  });
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 100">${shapes.join('')}</svg>`;
}
