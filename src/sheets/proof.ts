import type { Element } from '@svgdotjs/svg.js';
import type { CutBlock } from '../cutting/cuts.js';
import type { TextChunks } from '../text-chunks.js';
import { addCutGroup, blockWriter, CUT_LINES, ROUND } from './block-drawing.js';
import { displayText } from './display-text.js';
import { drawnNumbers } from './drawn-numbers.js';
import { drawBar, drawGuides, guideSpace } from './guides.js';
import { hatchData } from './hatch.js';
import { drawNumberGrid, type ProofSeries } from './number-grid.js';
import { ringsData, simplifiedPathData } from './path-data.js';
import { formatCoordinate, formatNumber } from './readable-numbers.js';
import {
  boundsOf,
  drawSurface,
  type Frame,
  frameMatrix,
  type SheetBounds,
  type SurfaceView,
} from './surface-drawing.js';
import {
  addGroup,
  addSlot,
  blankSheet,
  type Canvas,
  drawPath,
  drawRule,
  drawText,
  setSize,
  slot,
} from './svg-canvas.js';
import { type SlotValue, sheetTemplate } from './svg-template.js';
import { breakLines, fitText, textWidth } from './text-fit.js';
import { INK, QUIET, SECOND, SECOND_TINT, SERIF, SMALL_MM } from './theme.js';
import { cutWidths, describeMark, drawEntries, type SheetDesign, type SheetMark } from './title-block.js';

/** What one piece has cut on one surface. */
export interface LabelledBlocks {
  readonly label: string;
  readonly blocks: readonly CutBlock[];
}

/** A surface with every piece's cuts over one another. */
export interface ProofSurface extends SurfaceView {
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

/** What goes into the slots of a drawing, by the names of the slots. */
type SlotValues = Record<string, SlotValue>;

/**
 * The proof of a whole edition, for approval: every surface enlarged, then every number. In chunks: that of a big
 * edition is never joined to one string.
 */
export function writeProof(canvas: Canvas, scene: ProofScene): TextChunks {
  const svg = blankSheet(canvas, WIDTH, WIDTH, `Proof of ${scene.edition}`);
  const values: SlotValues = {};
  let y = drawHeading(svg, scene);
  y = drawSurfaces(canvas, svg, scene.surfaces, y, values);
  y = drawLegend(svg, y + 2);
  y = drawNumberGrid(canvas, svg, scene.series, { x: MARGIN, y: y + 10, width: INNER }, values);
  y = drawFoot(svg, scene, y + 4);
  setSize(svg, WIDTH, y + MARGIN);
  return sheetTemplate(svg).fill(values);
}

function drawHeading(svg: Element, scene: ProofScene): number {
  const heading = addGroup(svg, 'heading');
  drawText(heading, 'Proof for approval', MARGIN, MARGIN + 3, {
    size: 3.4,
    fill: SECOND,
    family: SERIF,
    style: 'italic',
  });
  const { size, lines } = fitText(displayText(scene.edition), INNER, 11, 2);
  let y = MARGIN + 5;
  for (const line of lines) {
    y += size * 1.05;
    drawText(heading, line, MARGIN, y, { size, fill: INK, family: SERIF });
  }
  y += 7;
  const bench = breakLines(displayText(scene.bench), 4, INNER, 1)[0]!;
  drawText(heading, bench, MARGIN, y, { size: 4, fill: QUIET, family: SERIF });
  y += 5;
  drawRule(heading, MARGIN, WIDTH - MARGIN, y, 0.3);
  return y + 8;
}

interface Cell {
  readonly surface: ProofSurface;
  readonly bounds: SheetBounds;
  readonly scale: number;
  readonly width: number;
  readonly height: number;
}

/** Surfaces two in a row; gives the y below the last row. */
function drawSurfaces(
  canvas: Canvas,
  svg: Element,
  surfaces: readonly ProofSurface[],
  top: number,
  values: SlotValues,
): number {
  const columnWidth = surfaces.length > 1 ? (INNER - GUTTER) / 2 : INNER;
  const cells = surfaces.map((surface) => cellOf(surface, columnWidth));
  let y = top;
  for (let k = 0; k < cells.length; k += 2) {
    const row = cells.slice(k, k + 2);
    const tallest = Math.max(...row.map((c) => c.height));
    let below = y;
    row.forEach((cell, n) => {
      const x = MARGIN + n * (columnWidth + GUTTER);
      const bottom = drawCell(canvas, svg, cell, { x, y, width: columnWidth, height: tallest }, values);
      below = Math.max(below, bottom);
    });
    y = below + 8;
  }
  return y;
}

function cellOf(surface: ProofSurface, column: number): Cell {
  const guides = guideSpace(surface.surface);
  const bounds = boundsOf(surface.surface);
  const [across, along] = [bounds.right - bounds.left, bounds.top - bounds.bottom];
  const fits = (s: number): boolean =>
    across * s + guides.left + guides.right <= column && along * s <= TALLEST;
  const scale = SCALES.find(fits) ?? SCALES.at(-1)!;
  return { surface, bounds, scale, width: across * scale, height: along * scale };
}

/** One surface in its column, `height` the room of the tallest of its row; gives the y below it. */
function drawCell(
  canvas: Canvas,
  svg: Element,
  { surface, bounds, scale, width, height }: Cell,
  {
    x,
    y,
    width: column,
    height: tallest,
  }: { readonly x: number; readonly y: number; readonly width: number; readonly height: number },
  values: SlotValues,
): number {
  const guides = guideSpace(surface.surface);
  const title = breakLines(
    `${displayText(surface.part.name)}, surface ${surface.surface.id}`,
    4.2,
    column,
    1,
  )[0]!;
  drawText(svg, title, x, y + 4, { size: 4.2, fill: INK, family: SERIF });
  const frame: Frame = {
    x: x + (column - width - guides.left - guides.right) / 2 + guides.left - bounds.left * scale,
    y: y + 8 + guides.top + tallest - height + bounds.top * scale,
    scale,
  };
  drawSurface(svg, surface, frame, 'with the free region');
  drawGuides(svg, surface.surface, surface.viewAngle, frame);
  drawOverlay(canvas, svg, surface, frame, values);
  let below = y + 8 + guides.top + tallest + guides.bottom + 6;
  const bar = 10 * scale <= column / 2 ? 10 : 5;
  drawBar(svg, x, below, bar, scale, `on the piece, drawn ${formatScale(scale)}`);
  below += 4;
  const entries = [
    ...surface.marks.map((one) => ({ key: one.name, value: describeMark(one) })),
    { key: 'solid', value: describeSolid(surface) },
  ];
  return drawEntries(svg, entries, x, below, 20, column);
}

function describeSolid({ pieces, widest }: ProofSurface): string {
  const keys = new Set(pieces.flatMap(({ blocks }) => blocks.map(({ key }) => key)));
  const solid = pieces.find(({ label }) => label === widest)?.blocks.length ?? 0;
  const drawn = drawnNumbers(pieces).length;
  const others = drawn === pieces.length ? 'the others are' : `${drawn} of the others are`;
  return keys.size === solid
    ? 'the same on every piece'
    : `${widest}, the widest of ${pieces.length}; ${others} under it, faint`;
}

const formatScale = (scale: number): string =>
  scale >= 1 ? `${formatNumber(scale)} : 1` : `1 : ${formatNumber(1 / scale)}`;

/** Every block once, faint, so that places cut often are darker; then the widest label solid over them. */
function drawOverlay(
  canvas: Canvas,
  svg: Element,
  scene: ProofSurface,
  frame: Frame,
  values: SlotValues,
): void {
  const name = `surface${Object.keys(values).length}`;
  const transform = frameMatrix(frame);
  const faint = { transform, ...CUT_LINES, 'stroke-opacity': '0.15', ...ROUND };
  addSlot(addGroup(svg, 'cut-all', faint), `${name}all`);
  addSlot(addCutGroup(svg, transform, slot(`${name}label`)), `${name}solid`);

  const { surface, viewAngle, marks, pieces } = scene;
  const write = blockWriter(canvas, surface, viewAngle, cutWidths(marks), simplifiedPathData);
  const paths = new Map<string, string>();
  const widest = pieces.find(({ label }) => label === scene.widest)?.blocks ?? [];
  const drawn = drawnNumbers(pieces).map(({ blocks }) => blocks);
  for (const blocks of [...drawn, widest])
    for (const block of blocks) if (!paths.has(block.key)) paths.set(block.key, write(block));
  values[`${name}all`] = { markup: [...paths.values()] };
  values[`${name}label`] = scene.widest;
  values[`${name}solid`] = { markup: widest.map(({ key }) => paths.get(key)!) };
}

function drawLegend(svg: Element, y: number): number {
  const group = addGroup(svg, 'legend');
  const box = (x: number): Float64Array => Float64Array.of(x, y, x + 7, y, x + 7, y + 4, x, y + 4);
  const words = (text: string, x: number): number => {
    drawText(group, text, x, y + 3, { size: SMALL_MM, fill: INK });
    return x + textWidth(text, SMALL_MM) + 7;
  };
  let x = MARGIN;
  const hatched = box(x);
  drawPath(group, ringsData([hatched]), { stroke: 'none', width: 0, fill: SECOND_TINT });
  drawPath(group, hatchData([hatched], 0.9), { stroke: SECOND, width: 0.08 });
  drawPath(group, ringsData([hatched]), { stroke: SECOND, width: 0.25 });
  x = words('hatched: no mark may touch', x + 9);
  drawPath(
    group,
    `M${formatCoordinate(x)} ${formatCoordinate(y + 2)}L${formatCoordinate(x + 7)} ${formatCoordinate(y + 2)}`,
    {
      stroke: SECOND,
      width: 0.15,
      dashes: [0.8, 0.6],
    },
  );
  x = words('dashed: with its clearance', x + 9);
  drawPath(group, ringsData([box(x)]), { stroke: INK, width: 0.12 });
  x = words('white: free', x + 9);
  return y + 4;
}

function drawFoot(svg: Element, scene: ProofScene, top: number): number {
  const foot = addGroup(svg, 'title');
  drawRule(foot, MARGIN, WIDTH - MARGIN, top, 0.3);
  const entries = [
    { key: 'Edition', value: scene.edition },
    { key: 'Bench', value: scene.bench },
    ...scene.designs.map(({ name, digest }) => ({ key: 'Design', value: `${name}, SHA-256 ${digest}` })),
  ];
  let y = drawEntries(foot, entries, MARGIN, top + 4, 24, INNER);
  y += 5;
  drawText(
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
    drawRule(foot, x, x + column, y, 0.2);
    drawText(foot, name, x, y + 4.5, { size: SMALL_MM, fill: QUIET });
  });
  return y + 5;
}
