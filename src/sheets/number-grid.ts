import type { Element } from '@svgdotjs/svg.js';
import type { CutBlock } from '../cutting/cuts.js';
import type { TextDirection } from '../layout/glyph-placement.js';
import type { Surface } from '../surface/surface.js';
import { nearDeg } from '../units.js';
import { anglesOf, copiesOnPicture } from './block-copies.js';
import { CUT_LINES, copyData, ROUND } from './block-drawing.js';
import { displayText } from './display-text.js';
import { drawnNumbers } from './drawn-numbers.js';
import { extentOf } from './extent.js';
import { simplifiedPathData } from './path-data.js';
import { formatCoordinate, formatCount, formatNumber } from './readable-numbers.js';
import { addElement, addGroup, addSlot, type Canvas, drawText, setAttributes, slot } from './svg-canvas.js';
import { elementTemplate, type SlotValue, type Template } from './svg-template.js';
import { breakLines } from './text-fit.js';
import { INK, QUIET, SERIF, SMALL_MM } from './theme.js';

/** One number as it is cut. */
export interface ProofNumber {
  readonly label: string;
  /** The blocks of the number mark alone. */
  readonly blocks: readonly CutBlock[];
}

export interface ProofSeries {
  /** As printed: numbered edition, artist's proofs. */
  readonly title: string;
  readonly numbers: readonly ProofNumber[];
  readonly surface: Surface;
  /** Baseline and reading direction of the number mark, by which a tile is turned to be read. */
  readonly direction: TextDirection;
  /** Width of the line cut, mm. */
  readonly cutWidth: number;
}

/** Cut lines turned to be read, and their room: mm on the piece, y up. */
interface Tile {
  readonly label: string;
  readonly blocks: readonly BlockInTile[];
  /** Drawn as areas, not as lines. */
  readonly filled: boolean;
  readonly quarterTurns: number;
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** A tile is at least this wide and its number at most this tall, mm on the paper. */
const TILE_MM = 26;
const TALLEST = 7;
const PAD = 5;
const CAPTION = 5.5;
const ROW_GAP = 4.5;

/**
 * The numbers of every series (of very many not all), enlarged, in rows, drawn from its own cut lines, with its label beneath. The numbers
 * go into slots, and their text into `values`: as elements, ten thousand of them would take long and much memory. The text of each is made when it is read.
 * Gives the y below the last row, mm.
 */
export function drawNumberGrid(
  canvas: Canvas,
  parent: Element,
  series: readonly ProofSeries[],
  { x, y, width }: { readonly x: number; readonly y: number; readonly width: number },
  values: Record<string, SlotValue>,
): number {
  let top = y;
  series.forEach((one, k) => {
    const tiles = drawnNumbers(one.numbers).map(tileMaker(one));
    const widest = Math.max(0.001, extentOf(tiles.map((t) => t.width))[1]);
    const tallest = Math.max(0.001, extentOf(tiles.map((t) => t.height))[1]);
    const scale = Math.min(TALLEST / tallest, (width - PAD) / widest);
    const columns = Math.max(1, Math.floor(width / Math.max(TILE_MM, widest * scale + PAD)));
    const cell = width / columns;
    const row = tallest * scale + CAPTION + ROW_GAP;

    const group = addGroup(parent, 'gallery');
    setAttributes(group, { 'data-series': one.title });
    drawText(group, one.title, x, top + 4, { size: 4.2, fill: INK, family: SERIF });
    const left = one.numbers.length - tiles.length;
    const pieces = formatCount(one.numbers.length, 'piece');
    const count = left === 0 ? pieces : `${pieces}, ${left} of them not shown`;
    const note = `${count}, enlarged ${formatNumber(scale, 1)} times`;
    drawText(group, note, x + width, top + 4, { size: SMALL_MM, fill: QUIET, anchor: 'end' });
    top += 10;
    addSlot(group, `series${k}`);
    const write = tileWriter(canvas, one.cutWidth);
    const first = top;
    const markup = {
      *[Symbol.iterator]() {
        for (const [n, tile] of tiles.entries())
          yield write(tile, {
            middle: x + (n % columns) * cell + cell / 2,
            top: first + Math.floor(n / columns) * row,
            width: cell - 1.5,
            height: tallest * scale,
            scale,
          });
      },
    };
    values[`series${k}`] = { markup };
    top += Math.ceil(tiles.length / columns) * row + 5;
  });
  return top;
}

/** A block as it is in a tile, and the extent of its points. */
interface BlockInTile {
  readonly data: string;
  readonly across: readonly [number, number];
  readonly along: readonly [number, number];
}

/** Tiles of one series. Neighbours in it mostly have the same letters at the same places, so the last is reused. */
function tileMaker({ surface, direction }: ProofSeries): (number: ProofNumber) => Tile {
  const angles = new Map<CutBlock, readonly [number, number]>();
  const angle = (block: CutBlock): readonly [number, number] => {
    let known = angles.get(block);
    if (!known) {
      known = anglesOf(surface, block);
      angles.set(block, known);
    }
    return known;
  };
  /** The angle in the middle of all the blocks, counted from the first one's turn so that no seam comes between. */
  const middleOf = (blocks: readonly CutBlock[]): number => {
    const from = blocks[0]?.turn ?? 0;
    const ends = blocks
      .filter((block) => block.lines.length > 0)
      .flatMap((block) => angle(block).map((at) => nearDeg(block.turn - from) + at));
    const [least, most] = extentOf(ends);
    return from + (least + most) / 2;
  };
  const last = new Map<CutBlock, { readonly middle: number; readonly placed: BlockInTile }>();
  const place = (block: CutBlock, middle: number): BlockInTile => {
    const known = last.get(block);
    if (known?.middle === middle) return known.placed;
    const placed = blockInTile(surface, block, middle);
    last.set(block, { middle, placed });
    return placed;
  };
  const up = direction.reading === 'up';
  const quarterTurns = direction.baseline === 'lengthwise' ? (up ? 3 : 1) : up ? 0 : 2;
  return ({ label, blocks }) => {
    const middle = middleOf(blocks);
    const placed = blocks.filter(({ lines }) => lines.length > 0).map((block) => place(block, middle));
    const [left, right] = extentOf(placed.flatMap(({ across }) => across));
    const [bottom, top] = extentOf(placed.flatMap(({ along }) => along));
    const [across, along] = [right - left, top - bottom];
    return {
      label,
      blocks: placed,
      filled: blocks.some(({ area }) => area),
      quarterTurns,
      x: (left + right) / 2,
      y: (bottom + top) / 2,
      width: quarterTurns % 2 === 0 ? across : along,
      height: quarterTurns % 2 === 0 ? along : across,
    };
  };
}

function blockInTile(surface: Surface, block: CutBlock, middle: number): BlockInTile {
  const copy = copiesOnPicture(surface, block, middle)[0]!;
  const points = copy.lines.flatMap((line) => [...line.points]);
  return {
    data: copyData(copy, simplifiedPathData),
    across: extentOf(points.filter((_, i) => i % 2 === 0)),
    along: extentOf(points.filter((_, i) => i % 2 === 1)),
  };
}

/** Where a tile is on the paper, mm: the middle of its number across, the top of its number, and the room for both. */
interface TileArea {
  readonly middle: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
  readonly scale: number;
}

type TileSlot = 'label' | 'transform' | 'data' | 'captionX' | 'captionY' | 'caption';

function tileWriter(canvas: Canvas, cutWidth: number): (tile: Tile, area: TileArea) => string {
  const make = (filled: boolean): Template<TileSlot> =>
    elementTemplate<TileSlot>(canvas, (parent) => drawTile(parent, filled, cutWidth));
  const templates = { areas: make(true), lines: make(false) };
  return (tile, { middle, top, width, height, scale }) => {
    // The tile's middle goes to the origin; it is turned to be read, then enlarged, then moved to its place; y is down.
    const transform = [
      `translate(${formatCoordinate(middle)} ${formatCoordinate(top + height / 2)})`,
      `scale(${formatCoordinate(scale)} ${formatCoordinate(-scale)})`,
      `rotate(${tile.quarterTurns * 90})`,
      `translate(${formatCoordinate(-tile.x)} ${formatCoordinate(-tile.y)})`,
    ].join(' ');
    return templates[tile.filled ? 'areas' : 'lines'].write({
      label: tile.label,
      transform: { raw: transform },
      data: { raw: tile.blocks.map(({ data }) => data).join('') },
      captionX: { raw: formatCoordinate(middle) },
      captionY: { raw: formatCoordinate(top + height + 4) },
      caption: breakLines(displayText(tile.label), SMALL_MM, width, 1)[0]!,
    });
  };
}

function drawTile(parent: Element, filled: boolean, cutWidth: number): void {
  const group = addGroup(parent, 'number', { 'data-label': slot('label'), transform: slot('transform') });
  const lines = { ...CUT_LINES, 'stroke-width': formatCoordinate(cutWidth), ...ROUND };
  addElement(group, 'path', { ...(filled ? { fill: INK } : lines), d: slot('data') });
  const style = { size: SMALL_MM, fill: QUIET, anchor: 'middle' } as const;
  drawText(parent, slot('caption'), slot('captionX'), slot('captionY'), style);
}
