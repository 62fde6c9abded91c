import { readFileSync } from 'node:fs';
import type { CutBlock } from '../../src/cutting/cuts.js';
import { type Part, part } from '../../src/documents/schema/part.js';
import { arcDeg, centred, type Lie, placeGlyph, setDown } from '../../src/layout/place.js';
import { flatten } from '../../src/lettering/flatten.js';
import { setLine } from '../../src/lettering/shape.js';
import { strokeFont } from '../../src/lettering/stroke.js';
import type { ProofScene } from '../../src/sheets/proof.js';
import type { SheetScene } from '../../src/sheets/sheet.js';
import { viewOf } from '../../src/sheets/view.js';
import { obstaclesOf } from '../../src/surface/keepouts.js';
import { type Place, type Surface, surfaceOf } from '../../src/surface/surface.js';
import { FLATTEN_TOLERANCE_MM } from '../../src/units.js';

const read = strokeFont(
  'burin-plain',
  readFileSync(new URL('../../fonts/burin-plain.svg', import.meta.url), 'utf8'),
);
if (!read.ok) throw new Error(read.problem.what);
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
  lie: Lie,
  at: Place,
): CutBlock[] {
  return centred(setLine(font, text, 'tabular'))
    .filter((one) => one.glyph.path.length > 0)
    .map((one) => {
      const { glyph, character, turn, x, y, quarters } = placeGlyph(surface, one, size, lie, at);
      return {
        key: `${mark} ${character} ${turn} ${x} ${y}`,
        mark,
        name: character,
        turn,
        lines: flatten(glyph.path, size, FLATTEN_TOLERANCE_MM).map(({ points, closed }) => ({
          points: setDown(points, quarters, x, y),
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
  view: viewOf(capSurface, capObstacles, numberBlocks('88/90')),
  designs: [{ name: 'Number on the cap', digest: digestCap }],
  marks: [
    { mark: 'number', name: 'number', size: 3.2, depth: 0.12, cutter: 'Diamond point', cutWidth: 0.18 },
  ],
};

export const barrelScene: SheetScene = {
  bench: 'Lantern Coast',
  edition: 'Nine Lights',
  part: barrel,
  surface: barrelSurface,
  obstacles: barrelObstacles,
  view: viewOf(barrelSurface, barrelObstacles, words),
  designs: [{ name: 'Words on the barrel', digest: digestBarrel }],
  marks: [{ mark: 'words', name: 'words', size: 2, depth: 0.1, cutter: 'Fine cone', cutWidth: 0.2 }],
};

/** For tests of marks that lie elsewhere on the cap. */
export const arcOnCap = (mm: number): number => arcDeg(capSurface, 26, mm);

const roman = ['I', 'II', 'III', 'IV', 'V', 'VI', 'VII', 'VIII', 'IX'];
const numbered = Array.from({ length: 90 }, (_, k) => `${k + 1}/90`);
const proofs = roman.map((n) => `AP ${n}/IX`);
const lie: Lie = { baseline: 'ring', reading: 'up' };
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
    { title: 'Numbered edition', numbers: cut(numbered), surface: capSurface, lie, cutWidth: 0.18 },
    { title: "Artist's proofs", numbers: cut(proofs), surface: capSurface, lie, cutWidth: 0.18 },
  ],
};
