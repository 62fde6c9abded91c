import { readFileSync } from 'node:fs';
import type { CutBlock } from '../../src/cutting/cuts.js';
import { type Cutter, cutter } from '../../src/documents/schema/cutter.js';
import { type Material, material } from '../../src/documents/schema/material.js';
import { type Part, part } from '../../src/documents/schema/part.js';
import { type Station, station } from '../../src/documents/schema/station.js';
import { flatten } from '../../src/geometry/flatten.js';
import {
  arcDeg,
  centreGlyphs,
  placeGlyph,
  placeOnSheet,
  type TextDirection,
} from '../../src/layout/glyph-placement.js';
import { shapeLine } from '../../src/lettering/shaped-line.js';
import { strokeFont } from '../../src/lettering/stroke-font.js';
import { fileCanvas } from '../../src/sheets/file-canvas.js';
import type { ProofScene } from '../../src/sheets/proof.js';
import type { RunSheet } from '../../src/sheets/run-sheet.js';
import type { SheetScene } from '../../src/sheets/sheet.js';
import { chooseViewAngle } from '../../src/sheets/view-angle.js';
import { obstaclesOf } from '../../src/surface/keepouts.js';
import { surfaceOf } from '../../src/surface/part-surfaces.js';
import type { Place, Surface } from '../../src/surface/surface.js';
import { FLATTEN_TOLERANCE_MM } from '../../src/units.js';
import { lineOf } from '../words-of.js';

/** What the tests draw on. */
export const canvas = await fileCanvas();

const read = strokeFont(
  'burin-plain',
  readFileSync(new URL('../../fonts/burin-plain.svg', import.meta.url), 'utf8'),
);
if (!read.ok) throw new Error(lineOf(read.problem));
const font = read.font;

export const cap: Part = part.parse({
  kind: 'part',
  version: 1,
  name: 'Cap, silver',
  material: 'silver',
  wall: 0.6,
  profile: [
    { z: 0, diameter: 12.6 },
    { z: 45, diameter: 12.6 },
  ],
  surfaces: [{ id: 'body', from: 0, to: 45, clearance: 0.5 }],
  keepouts: [
    { id: 'clip', kind: 'clip', from: 14, to: 45, angle: 0, width: 4, shadow: 0.5, clearance: 0.4 },
    { id: 'lip', kind: 'band', from: 0, to: 5, clearance: 0.4 },
  ],
});

export const barrel: Part = part.parse({
  kind: 'part',
  version: 1,
  name: 'Barrel, sea-green resin',
  material: 'resin',
  wall: 1.8,
  profile: [
    { z: 0, diameter: 12.4 },
    { z: 60, diameter: 9.6 },
  ],
  surfaces: [{ id: 'taper', from: 0, to: 60, clearance: 0.5 }],
  keepouts: [
    { id: 'thread', kind: 'thread', from: 0, to: 9, clearance: 0.5 },
    {
      id: 'ink',
      kind: 'window',
      clearance: 0.4,
      outline: [
        { z: 14, angle: 70 },
        { z: 14, angle: 110 },
        { z: 34, angle: 110 },
        { z: 34, angle: 70 },
      ],
    },
  ],
});

export function blocksOf(
  surface: Surface,
  mark: string,
  text: string,
  size: number,
  direction: TextDirection,
  at: Place,
): CutBlock[] {
  return centreGlyphs(shapeLine(font, text, 'tabular'))
    .filter((one) => one.glyph.path.length > 0)
    .map((one) => {
      const { glyph, character, turn, x, y, rotation } = placeGlyph(surface, one, size, direction, at);
      return {
        key: `${mark} ${character} ${turn} ${x} ${y}`,
        mark,
        name: character,
        turn,
        lines: flatten(glyph.path, size, FLATTEN_TOLERANCE_MM).map(({ points, closed }) => ({
          points: placeOnSheet(points, rotation, x, y),
          closed,
        })),
        depth: 0.12,
        passes: [0.06, 0.12],
      };
    });
}

const digestCap = '4f1c9a07e2b35d68'.repeat(4);
const digestBarrel = 'a83e05d1769c42fb'.repeat(4);

export const capSurface = surfaceOf(cap, 'body')!;
export const barrelSurface = surfaceOf(barrel, 'taper')!;
export const NUMBER_AT = { z: 26, angle: 180 };

export const numberBlocks = (label: string): CutBlock[] =>
  blocksOf(capSurface, 'number', label, 3.2, { baseline: 'ring', reading: 'up' }, NUMBER_AT);

export const words = blocksOf(
  barrelSurface,
  'words',
  'Nine Lights of Lantern Coast',
  2,
  { baseline: 'lengthwise', reading: 'up' },
  { z: 33, angle: 270 },
);

const capObstacles = obstaclesOf(cap, cap.surfaces[0]!, capSurface);
const barrelObstacles = obstaclesOf(barrel, barrel.surfaces[0]!, barrelSurface);

export const capScene: SheetScene = {
  bench: 'Lantern Coast',
  edition: 'Nine Lights',
  part: cap,
  surface: capSurface,
  obstacles: capObstacles,
  viewAngle: chooseViewAngle(capSurface, capObstacles, numberBlocks('88/90')),
  designs: [{ name: 'Number on the cap', digest: digestCap }],
  marks: [
    {
      mark: 'number',
      name: 'number',
      sizes: [3.2, 3.2],
      depth: 0.12,
      cutter: 'Diamond point',
      cutWidth: 0.18,
    },
  ],
};

export const barrelScene: SheetScene = {
  bench: 'Lantern Coast',
  edition: 'Nine Lights',
  part: barrel,
  surface: barrelSurface,
  obstacles: barrelObstacles,
  viewAngle: chooseViewAngle(barrelSurface, barrelObstacles, words),
  designs: [{ name: 'Words on the barrel', digest: digestBarrel }],
  marks: [{ mark: 'words', name: 'words', sizes: [2, 2], depth: 0.1, cutter: 'Fine cone', cutWidth: 0.2 }],
};

/** For tests of marks that lie elsewhere on the cap. */
export const arcOnCap = (mm: number): number => arcDeg(capSurface, 26, mm);

const roman = ['I', 'II', 'III', 'IV', 'V', 'VI', 'VII', 'VIII', 'IX'];
const numbered = Array.from({ length: 90 }, (_, k) => `${k + 1}/90`);
const proofs = roman.map((n) => `AP ${n}/IX`);
const direction: TextDirection = { baseline: 'ring', reading: 'up' };
const cut = (labels: readonly string[]) => labels.map((label) => ({ label, blocks: numberBlocks(label) }));

export const proofScene: ProofScene = {
  bench: 'Lantern Coast',
  edition: 'Nine Lights',
  designs: [...capScene.designs, ...barrelScene.designs],
  surfaces: [
    { ...capScene, pieces: cut([...numbered, ...proofs]), widest: 'AP VIII/IX' },
    { ...barrelScene, pieces: [{ label: '1/90', blocks: words }], widest: '1/90' },
  ],
  series: [
    { title: 'Numbered edition', numbers: cut(numbered), surface: capSurface, direction, cutWidth: 0.18 },
    { title: "Artist's proofs", numbers: cut(proofs), surface: capSurface, direction, cutWidth: 0.18 },
  ],
};

const silver: Material = material.parse({
  kind: 'material',
  version: 1,
  name: 'Sterling silver',
  family: 'metal',
  pass: 0.06,
  feed: 240,
  gravity: 10.4,
  cautions: ['Catch the swarf in the tray: silver goes back to the refiner.'],
});

const resin: Material = material.parse({
  kind: 'material',
  version: 1,
  name: 'Sea-green resin',
  family: 'resin',
  pass: 0.1,
  feed: 600,
});

const diamond: Cutter = cutter.parse({
  kind: 'cutter',
  version: 1,
  name: 'Diamond point',
  shape: 'drag',
  width: 0.18,
  feed: 400,
  plunge: 120,
  depth: 0.2,
});

const cone: Cutter = cutter.parse({
  kind: 'cutter',
  version: 1,
  name: 'Fine cone',
  shape: 'cone',
  tip: 0.1,
  angle: 60,
  speed: 18000,
  feed: 500,
  plunge: 100,
  depth: 0.3,
});

const rotary: Station = station.parse({
  kind: 'station',
  version: 1,
  name: 'Bench rotary',
  setup: 'tilted',
  axes: {
    x: { min: -5, max: 160, speed: 2000 },
    a: { speed: 7200 },
    z: { min: -10, max: 60, speed: 1000 },
  },
  safe: 4,
  approach: 0.5,
});

export const runScene: RunSheet = {
  bench: 'Lantern Coast',
  edition: 'Nine Lights',
  job: 'first-delivery',
  station: rotary,
  designs: [...capScene.designs, ...barrelScene.designs],
  operations: [
    {
      ...capScene,
      marks: [{ ...capScene.marks[0]!, passes: [0.06, 0.12] }],
      material: silver,
      cutter: diamond,
      feed: 240,
      plunge: 120,
      numbered: true,
      example: { label: '12/90', blocks: numberBlocks('12/90') },
      pieces: [...numbered, ...proofs].map((label, k) => ({
        label,
        file: `cap-${String(k + 1).padStart(3, '0')}-${label.replaceAll(/[ /]/g, '-').toLowerCase()}.ngc`,
        minutes: 1.2 + (k % 7) / 10,
      })),
    },
    {
      ...barrelScene,
      marks: [{ ...barrelScene.marks[0]!, passes: [0.1] }],
      material: resin,
      cutter: cone,
      feed: 500,
      plunge: 100,
      speed: 18000,
      numbered: false,
      example: { label: 'words', blocks: words },
      pieces: numbered.slice(0, 12).map((label, k) => ({ label, file: `barrel-${k + 1}.ngc`, minutes: 3.5 })),
    },
  ],
};

/** A surface with nothing to keep clear of but its edges, for shapes the edition does not have. */
export function plainScene(z0: number, z1: number, d0: number, d1: number): SheetScene {
  const plain = part.parse({
    kind: 'part',
    version: 1,
    name: 'Trial piece',
    material: 'resin',
    wall: 1,
    profile: [
      { z: z0, diameter: d0 },
      { z: z1, diameter: d1 },
    ],
    surfaces: [{ id: 'trial', from: z0, to: z1, clearance: 0.3 }],
  });
  const surface = surfaceOf(plain, 'trial')!;
  const obstacles = obstaclesOf(plain, plain.surfaces[0]!, surface);
  return { ...capScene, part: plain, surface, obstacles, viewAngle: 0 };
}
