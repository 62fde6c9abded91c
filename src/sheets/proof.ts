import type { G, Svg } from '@svgdotjs/svg.js';
import type { CutBlock } from '../cutting/cuts.js';
import { joinChunks, type TextChunks } from '../text-chunks.js';
import { blockPaths, cutGroup } from './cut-path.js';
import { figure, ringsData, shownData, told } from './figures.js';
import { drawGallery, type ProofSeries } from './gallery.js';
import { drawBar, drawGuides, guideRoom } from './guides.js';
import { hatchData } from './hatch.js';
import { broken, fitted, INK, QUIET, SECOND, SECOND_TINT, SERIF, SMALL_MM, typeWidth } from './look.js';
import { blankSheet, draw, HOLE, hole, named, sized, type, written } from './paper.js';
import { type Bounds, boundsOf, drawSurface, type Frame, frameMatrix, type Pictured } from './picture.js';
import { shown } from './text.js';
import { cutWidths, drawEntries, markWords, type SheetDesign, type SheetMark } from './title-block.js';

/** What one piece has cut on one surface. */
export interface LabelledBlocks {
  readonly label: string;
  readonly blocks: readonly CutBlock[];
}

/** A surface with every piece's cuts laid over one another. */
export interface ProofSurface extends Pictured {
  readonly marks: readonly SheetMark[];
  readonly pieces: readonly LabelledBlocks[];
  /** Label of the piece drawn solid: the widest. */
  readonly widest: string;
}

export interface ProofScene {
  readonly bench: string;
  readonly edition: string;
  readonly designs: readonly SheetDesign[];
  readonly surfaces: readonly ProofSurface[];
  readonly series: readonly ProofSeries[];
}

const WIDTH = 297;
const MARGIN = 18;
const INNER = WIDTH - 2 * MARGIN;
const GUTTER = 12;
/** Tallest a surface is drawn, mm. */
const TALLEST = 190;
const SCALES = [8, 6, 5, 4, 3, 2, 1, 0.5, 0.2];

/** The proof of a whole edition, for approval: every surface enlarged, then every number. */
export const proofSheet = (scene: ProofScene): string => joinChunks(proofSetting(scene));

/** The same in stretches: that of a big edition is never joined to one string. */
export function proofSetting(scene: ProofScene): TextChunks {
  const svg = blankSheet(WIDTH, WIDTH, `Proof of ${scene.edition}`);
  let y = drawHeading(svg, scene);
  const surfaces = drawSurfaces(svg, scene.surfaces, y);
  y = drawLegend(svg, surfaces.bottom + 2);
  const gallery = drawGallery(svg, scene.series, MARGIN, y + 10, INNER);
  y = drawFoot(svg, scene, gallery.bottom + 4);
  sized(svg, WIDTH, y + MARGIN);
  const parts = written(svg).split(HOLE);
  const cuts = [...surfaces.overlays.map((overlay) => [overlay]), ...gallery.tiles];
  return [...parts.flatMap((part, k) => [part, ...(cuts[k] ?? [])]), '\n'];
}

function drawHeading(svg: Svg, scene: ProofScene): number {
  const heading = named(svg, 'heading');
  type(heading, 'Proof for approval', MARGIN, MARGIN + 3, {
    size: 3.4,
    fill: SECOND,
    family: SERIF,
    style: 'italic',
  });
  const { size, lines } = fitted(shown(scene.edition), INNER, 11, 2);
  let y = MARGIN + 5;
  for (const line of lines) {
    y += size * 1.05;
    type(heading, line, MARGIN, y, { size, fill: INK, family: SERIF });
  }
  y += 7;
  const bench = broken(shown(scene.bench), 4, INNER, 1)[0]!;
  type(heading, bench, MARGIN, y, { size: 4, fill: QUIET, family: SERIF });
  y += 5;
  rule(heading, y, 0.3);
  return y + 8;
}

interface Cell {
  readonly surface: ProofSurface;
  readonly bounds: Bounds;
  readonly scale: number;
  readonly width: number;
  readonly height: number;
}

/** Surfaces side by side while they fit, then in further rows. */
function drawSurfaces(
  svg: Svg,
  surfaces: readonly ProofSurface[],
  top: number,
): { bottom: number; overlays: string[] } {
  const room = surfaces.length > 1 ? (INNER - GUTTER) / 2 : INNER;
  const cells = surfaces.map((surface) => cellOf(surface, room));
  const overlays: string[] = [];
  let y = top;
  for (let k = 0; k < cells.length; k += 2) {
    const row = cells.slice(k, k + 2);
    const tallest = Math.max(...row.map((c) => c.height));
    let below = y;
    row.forEach((cell, n) => {
      const x = MARGIN + n * (room + GUTTER);
      const bottom = drawCell(svg, cell, x, y, room, tallest, overlays);
      below = Math.max(below, bottom);
    });
    y = below + 8;
  }
  return { bottom: y, overlays };
}

function cellOf(surface: ProofSurface, column: number): Cell {
  const room = guideRoom(surface.surface);
  const bounds = boundsOf(surface.surface);
  const [across, along] = [bounds.right - bounds.left, bounds.top - bounds.bottom];
  const fits = (s: number): boolean => across * s + room.left + room.right <= column && along * s <= TALLEST;
  const scale = SCALES.find(fits) ?? SCALES.at(-1)!;
  return { surface, bounds, scale, width: across * scale, height: along * scale };
}

function drawCell(
  svg: Svg,
  { surface, bounds, scale, width, height }: Cell,
  x: number,
  y: number,
  column: number,
  tallest: number,
  overlays: string[],
): number {
  const room = guideRoom(surface.surface);
  const title = broken(`${shown(surface.part.name)}, surface ${surface.surface.id}`, 4.2, column, 1)[0]!;
  type(svg, title, x, y + 4, { size: 4.2, fill: INK, family: SERIF });
  const frame: Frame = {
    x: x + (column - width - room.left - room.right) / 2 + room.left - bounds.left * scale,
    y: y + 8 + room.top + tallest - height + bounds.top * scale,
    scale,
  };
  drawSurface(svg, surface, frame, 'with the free region');
  drawGuides(svg, surface.surface, surface.view, frame);
  hole(svg);
  overlays.push(overlay(surface, frame));
  let below = y + 8 + room.top + tallest + room.bottom + 6;
  const bar = 10 * scale <= column / 2 ? 10 : 5;
  drawBar(svg, x, below, bar, scale, `on the piece, drawn ${scaleWords(scale)}`);
  below += 4;
  const entries = [
    ...surface.marks.map((one) => ({ key: one.name, value: markWords(one) })),
    { key: 'solid', value: solidWords(surface) },
  ];
  return drawEntries(svg, entries, x, below, 20, column);
}

function solidWords({ pieces, widest }: ProofSurface): string {
  const keys = new Set(pieces.flatMap(({ blocks }) => blocks.map(({ key }) => key)));
  const solid = pieces.find(({ label }) => label === widest)?.blocks.length ?? 0;
  return keys.size === solid
    ? 'the same on every piece'
    : `${widest}, the widest of ${pieces.length}; the others are laid under it, faint`;
}

const scaleWords = (scale: number): string => (scale >= 1 ? `${told(scale)} : 1` : `1 : ${told(1 / scale)}`);

/** Every block once, faint, so that places cut often are darker; then the widest label solid over them. */
function overlay(scene: ProofSurface, frame: Frame): string {
  const widths = cutWidths(scene.marks);
  const matrix = frameMatrix(frame);
  const paths = new Map<string, string>();
  for (const { blocks } of scene.pieces)
    for (const block of blocks)
      if (!paths.has(block.key))
        paths.set(block.key, blockPaths(scene.surface, scene.view, block, widths, shownData));
  const widest = scene.pieces.find(({ label }) => label === scene.widest)?.blocks ?? [];
  const solid = widest.map((block) => blockPaths(scene.surface, scene.view, block, widths, shownData));
  return [
    `<g data-role="cut-all" transform="${matrix}" fill="none" stroke="${INK}" stroke-opacity="0.15"`,
    ' stroke-linecap="round" stroke-linejoin="round">',
    ...paths.values(),
    '</g>',
    cutGroup(matrix, scene.widest, solid),
  ].join('');
}

function drawLegend(svg: Svg, y: number): number {
  const group = named(svg, 'legend');
  const box = (x: number): Float64Array => Float64Array.of(x, y, x + 7, y, x + 7, y + 4, x, y + 4);
  const words = (text: string, x: number): number => {
    type(group, text, x, y + 3, { size: SMALL_MM, fill: INK });
    return x + typeWidth(text, SMALL_MM) + 7;
  };
  let x = MARGIN;
  const kept = box(x);
  draw(group, ringsData([kept]), { stroke: 'none', width: 0, fill: SECOND_TINT });
  draw(group, hatchData([kept], 0.9), { stroke: SECOND, width: 0.08 });
  draw(group, ringsData([kept]), { stroke: SECOND, width: 0.25 });
  x = words('hatched: no mark may touch', x + 9);
  draw(group, `M${figure(x)} ${figure(y + 2)}L${figure(x + 7)} ${figure(y + 2)}`, {
    stroke: SECOND,
    width: 0.15,
    dashes: [0.8, 0.6],
  });
  x = words('dashed: with its clearance', x + 9);
  draw(group, ringsData([box(x)]), { stroke: INK, width: 0.12 });
  x = words('white: free', x + 9);
  return y + 4;
}

function drawFoot(svg: Svg, scene: ProofScene, top: number): number {
  const foot = named(svg, 'title');
  rule(foot, top, 0.3);
  const entries = [
    { key: 'Edition', value: scene.edition },
    { key: 'Bench', value: scene.bench },
    ...scene.designs.map(({ name, digest }) => ({ key: 'Design', value: `${name}, SHA-256 ${digest}` })),
  ];
  let y = drawEntries(foot, entries, MARGIN, top + 4, 24, INNER);
  y += 5;
  type(
    foot,
    'Approved as drawn. Numbers, spelling, places and sizes have been read against the order.',
    MARGIN,
    y,
    {
      size: 3.2,
      fill: INK,
      family: SERIF,
      style: 'italic',
    },
  );
  y += 18;
  const column = (INNER - 2 * GUTTER) / 3;
  ['Approved by', 'For the bench', 'Date'].forEach((name, k) => {
    const x = MARGIN + k * (column + GUTTER);
    draw(foot, `M${figure(x)} ${figure(y)}L${figure(x + column)} ${figure(y)}`, { stroke: INK, width: 0.2 });
    type(foot, name, x, y + 4.5, { size: SMALL_MM, fill: QUIET });
  });
  return y + 5;
}

const rule = (onto: G, y: number, width: number): void => {
  draw(onto, `M${figure(MARGIN)} ${figure(y)}L${figure(WIDTH - MARGIN)} ${figure(y)}`, {
    stroke: INK,
    width,
  });
};
