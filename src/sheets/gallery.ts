import type { Svg } from '@svgdotjs/svg.js';
import type { CutBlock } from '../cutting/cuts.js';
import type { Lie } from '../layout/place.js';
import type { Surface } from '../surface/surface.js';
import { nearDeg } from '../units.js';
import { anglesOf, movedBlock, movedData } from './cut-path.js';
import { figure, shownData, spanOf, told } from './figures.js';
import { broken, INK, QUIET, SERIF, SMALL_MM } from './look.js';
import { hole, named, type } from './paper.js';
import { attribute, content, shown } from './text.js';

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
  /** How the number mark lies, so that a tile can be turned to be read. */
  readonly lie: Lie;
  /** Width of the line cut, mm. */
  readonly cutWidth: number;
}

/** Cut lines turned to be read, and their room: mm on the piece, y up. */
interface Tile {
  readonly label: string;
  readonly data: string;
  /** Drawn as areas, not as lines. */
  readonly filled: boolean;
  readonly quarters: number;
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

export interface Gallery {
  readonly bottom: number;
  /** What goes into each hole the gallery left, in order: one for each series, a stretch of text for each number. */
  readonly tiles: readonly (readonly string[])[];
}

/** Every number of every series, drawn large in rows from its own cut lines, with its label beneath. */
export function drawGallery(
  svg: Svg,
  series: readonly ProofSeries[],
  x: number,
  y: number,
  width: number,
): Gallery {
  const filled: string[][] = [];
  let at = y;
  for (const one of series) {
    const tiles = one.numbers.map(tileMaker(one));
    const widest = Math.max(0.001, spanOf(tiles.map((t) => t.width))[1]);
    const tallest = Math.max(0.001, spanOf(tiles.map((t) => t.height))[1]);
    const scale = Math.min(TALLEST / tallest, (width - PAD) / widest);
    const columns = Math.max(1, Math.floor(width / Math.max(TILE_MM, widest * scale + PAD)));
    const cell = width / columns;
    const row = tallest * scale + CAPTION + ROW_GAP;

    const group = named(svg, 'gallery');
    group.attr('data-series', shown(one.title));
    type(group, one.title, x, at + 4, { size: 4.2, fill: INK, family: SERIF });
    const count = `${tiles.length} ${tiles.length === 1 ? 'piece' : 'pieces'}, enlarged ${told(scale, 1)} times`;
    type(group, count, x + width, at + 4, { size: SMALL_MM, fill: QUIET, anchor: 'end' });
    at += 10;
    // Joined as text: through the drawing document, ten thousand numbers would take long and much memory.
    hole(group);
    const drawn = tiles.map((tile, k) => {
      const middle = x + (k % columns) * cell + cell / 2;
      const top = at + Math.floor(k / columns) * row;
      return [
        drawnTile(tile, middle, top + (tallest * scale) / 2, scale, one.cutWidth),
        caption(tile.label, middle, top + tallest * scale + 4, cell - 1.5),
      ].join('');
    });
    filled.push(drawn);
    at += Math.ceil(tiles.length / columns) * row + 5;
  }
  return { bottom: at, tiles: filled };
}

/** A block as it lies in a tile, and the span of its points. */
interface Laid {
  readonly data: string;
  readonly across: readonly [number, number];
  readonly along: readonly [number, number];
}

/** Tiles of one series. Neighbours in it mostly carry the same letters at the same places, so the last is kept. */
function tileMaker({ surface, lie }: ProofSeries): (number: ProofNumber) => Tile {
  const angles = new Map<CutBlock, readonly [number, number]>();
  const angle = (block: CutBlock): readonly [number, number] => {
    let known = angles.get(block);
    if (!known) {
      known = anglesOf(surface, block);
      angles.set(block, known);
    }
    return known;
  };
  /** The angle in the middle of all the blocks, told from the first one's turn so that no seam comes between. */
  const middleOf = (blocks: readonly CutBlock[]): number => {
    const from = blocks[0]?.turn ?? 0;
    const ends = blocks
      .filter((block) => block.lines.length > 0)
      .flatMap((block) => angle(block).map((at) => nearDeg(block.turn - from) + at));
    const [least, most] = spanOf(ends);
    return from + (least + most) / 2;
  };
  const last = new Map<CutBlock, { readonly middle: number; readonly laid: Laid }>();
  const lay = (block: CutBlock, middle: number): Laid => {
    const known = last.get(block);
    if (known?.middle === middle) return known.laid;
    const laid = laidBlock(surface, block, middle);
    last.set(block, { middle, laid });
    return laid;
  };
  const up = lie.reading === 'up';
  const quarters = lie.baseline === 'lengthwise' ? (up ? 3 : 1) : up ? 0 : 2;
  return ({ label, blocks }) => {
    const middle = middleOf(blocks);
    const laid = blocks.filter(({ lines }) => lines.length > 0).map((block) => lay(block, middle));
    const [left, right] = spanOf(laid.flatMap(({ across }) => across));
    const [bottom, top] = spanOf(laid.flatMap(({ along }) => along));
    const [across, along] = [right - left, top - bottom];
    return {
      label,
      data: laid.map(({ data }) => data).join(''),
      filled: blocks.some(({ area }) => area),
      quarters,
      x: (left + right) / 2,
      y: (bottom + top) / 2,
      width: quarters % 2 === 0 ? across : along,
      height: quarters % 2 === 0 ? along : across,
    };
  };
}

function laidBlock(surface: Surface, block: CutBlock, middle: number): Laid {
  const { lines } = movedBlock(surface, block, middle)[0]!;
  const points = lines.flatMap((line) => [...line.points]);
  return {
    data: movedData({ turned: 0, lines }, shownData),
    across: spanOf(points.filter((_, i) => i % 2 === 0)),
    along: spanOf(points.filter((_, i) => i % 2 === 1)),
  };
}

function drawnTile(tile: Tile, middle: number, y: number, scale: number, cutWidth: number): string {
  // First the tile's middle to the origin, then turned to be read, then enlarged, then to its place; y goes down.
  const transform = `translate(${figure(middle)} ${figure(y)}) scale(${figure(scale)} ${figure(-scale)}) rotate(${tile.quarters * 90}) translate(${figure(-tile.x)} ${figure(-tile.y)})`;
  const look = tile.filled
    ? `fill="${INK}"`
    : `fill="none" stroke="${INK}" stroke-width="${figure(cutWidth)}" stroke-linecap="round" stroke-linejoin="round"`;
  return (
    `<g data-role="number" data-label="${attribute(tile.label)}" transform="${transform}">` +
    `<path ${look} d="${tile.data}"/></g>`
  );
}

function caption(label: string, middle: number, y: number, width: number): string {
  const words = broken(shown(label), SMALL_MM, width, 1)[0]!;
  return (
    `<text x="${figure(middle)}" y="${figure(y)}" font-size="${figure(SMALL_MM)}" fill="${QUIET}"` +
    ` text-anchor="middle">${content(words)}</text>`
  );
}
