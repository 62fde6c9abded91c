import { readFileSync } from 'node:fs';
import type { CutBlock } from '../../src/cutting/cuts.js';
import { cutGlyph } from '../../src/cutting/glyph.js';
import { cutter } from '../../src/documents/schema/cutter.js';
import {
  centreGlyphs,
  placeGlyph,
  placeOnSheet,
  type TextDirection,
} from '../../src/layout/glyph-placement.js';
import { repeatPlaces } from '../../src/layout/wrap.js';
import { shapeLine } from '../../src/lettering/shaped-line.js';
import { strokeFont } from '../../src/lettering/stroke-font.js';
import { surfaceBetween } from '../../src/surface/part-surfaces.js';
import type { Surface } from '../../src/surface/surface.js';
import { lineOf } from '../words-of.js';

/** Sheets of many marks, invented for the bench Lantern Coast, made of the project's own letters and repeats. */
export interface MarkedSheet {
  readonly name: string;
  readonly surface: Surface;
  /** One line a block. */
  readonly blocks: readonly CutBlock[];
}

const made = strokeFont(
  'burin-plain',
  readFileSync(new URL('../../fonts/burin-plain.svg', import.meta.url), 'utf8'),
);
if (!made.ok) throw new Error(lineOf(made.problem));
const { font } = made;
const drag = cutter.parse({
  kind: 'cutter',
  version: 1,
  name: 'diamond drag',
  feed: 300,
  plunge: 60,
  depth: 0.2,
  shape: 'drag',
  width: 0.12,
});
const how = { way: 'trace', cutter: drag, depth: 0.05, passes: [0.05] } as const;

/** Each line of a block as a block of its own. */
const apart = (block: CutBlock): CutBlock[] =>
  block.lines.map((line, k) => ({ ...block, key: `${block.key} ${k}`, lines: [line] }));

export function letters(
  surface: Surface,
  text: string,
  size: number,
  direction: TextDirection,
  z: number,
  angle: number,
) {
  const line = shapeLine(font, text, 'tabular', 0.05);
  return centreGlyphs(line).flatMap((one) => {
    const placed = placeGlyph(surface, one, size, direction, { z, angle });
    const block = cutGlyph(placed, { mark: text, font, size }, how);
    return block ? apart(block) : [];
  });
}

type Chance = () => number;

/** Numbers that only look like chance: always the same for a seed (Park and Miller 1988, from memory). */
export function chance(seed: number): Chance {
  let at = seed * 7919 + 1;
  const next = () => {
    at = (at * 48_271) % 2_147_483_647;
    return at / 2_147_483_647;
  };
  for (let k = 0; k < 8; k++) next();
  return next;
}

const between = (at: Chance, low: number, high: number): number => low + (high - low) * at();

/** A small closed rhomb, a short stroke or a bent one, mm, about its middle. */
const MOTIFS = [
  { closed: true, points: [0.15, 0, 0, 0.2, -0.15, 0, 0, -0.2] },
  { closed: false, points: [-0.3, -0.2, 0.3, 0.2] },
  { closed: false, points: [-0.4, 0, 0, 0.35, 0.4, 0] },
] as const;

function repeats(surface: Surface, at: Chance, count: number, kind: number): CutBlock[] {
  const rows = 1 + Math.floor(between(at, 1, 8));
  const round = Math.max(3, Math.round(count / rows));
  const repeat = {
    count: round,
    rows,
    rise: between(at, 0.8, 2),
    step: at() < 0.5 ? 0 : 0.5,
    mirror: 'none',
  } as const;
  const { closed, points } = MOTIFS[kind % MOTIFS.length]!;
  const middle = surface.slant((surface.z0 + surface.z1) / 2);
  return repeatPlaces(repeat, between(at, 0, 360)).map(({ turn, up, row, index }) => ({
    key: `repeat ${row} ${index}`,
    mark: 'repeat',
    name: 'motif',
    turn,
    lines: [{ closed, points: placeOnSheet(Float64Array.from(points), 0, 0, middle + up) }],
    depth: 0.05,
    passes: [0.05],
  }));
}

const WORDS = [
  'NINE LIGHTS',
  'LANTERN COAST',
  'No 12/90',
  'KEEP THE LAMP LIT',
  'A.P. VII/IX',
  'HARBOUR & HEADLAND 1887',
];

function rings(surface: Surface, at: Chance, most: number): CutBlock[] {
  const out: CutBlock[] = [];
  const step = between(at, 1.6, 2.6);
  for (let z = surface.z0 + 4; z < surface.z1 - 4 && out.length < most; z += step) {
    const text = WORDS[Math.floor(at() * WORDS.length)]!;
    const reading = at() < 0.5 ? 'up' : 'down';
    out.push(
      ...letters(surface, text, between(at, 0.9, 1.5), { baseline: 'ring', reading }, z, between(at, 0, 360)),
    );
  }
  return out.slice(0, most);
}

/** Fifty sheets of 20 to 500 marks: rings of letters, repeats, and both, on cylinders and on tapers either way. */
export const sheets: readonly MarkedSheet[] = Array.from({ length: 50 }, (_, k) => {
  const at = chance(k + 1);
  const r0 = between(at, 4, 7);
  const r1 = k % 5 === 0 ? r0 : r0 + between(at, -1.5, 1.5);
  const surface = surfaceBetween('field', 5, between(at, 45, 70), r0, r1);
  const marks = Math.round(20 * 25 ** (k / 49));
  const kind = ['rings of letters', 'repeats', 'letters and repeats'][k % 3]!;
  const blocks =
    k % 3 === 0
      ? rings(surface, at, marks)
      : k % 3 === 1
        ? repeats(surface, at, marks, Math.floor(k / 3))
        : [
            ...rings(surface, at, Math.ceil(marks / 2)),
            ...repeats(surface, at, Math.floor(marks / 2), 1 + Math.floor(k / 3)),
          ];
  return { name: `${kind} ${k + 1}`, surface, blocks: blocks.map((b, i) => ({ ...b, key: `${i}` })) };
});
