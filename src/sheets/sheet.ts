import type { CutBlock } from '../cutting/cuts.js';
import { encodeText, joinChunks, type TextChunks } from '../text-chunks.js';
import { blockPaths, CUT_GROUP_END, cutGroupStart } from './cut-path.js';
import { figure } from './figures.js';
import { drawBar, drawGuides, guideRoom } from './guides.js';
import { fitted, INK, SERIF } from './look.js';
import { blankSheet, draw, HOLE, hole, named, sized, written } from './paper.js';
import { boundsOf, drawSurface, type Frame, frameMatrix, type Pictured } from './picture.js';
import { attribute, content, shown } from './text.js';
import {
  cutWidths,
  drawEntries,
  type Entry,
  markWords,
  type SheetDesign,
  type SheetMark,
  shortDigest,
} from './title-block.js';

/** One surface of the piece, and what is cut on it. Everything a sheet shows that is the same on every piece. */
export interface SheetScene extends Pictured {
  /** The bench, as it appears on sheets. */
  readonly bench: string;
  readonly edition: string;
  readonly designs: readonly SheetDesign[];
  /** One for each mark cut on this surface, in order. */
  readonly marks: readonly SheetMark[];
}

/** Writes the sheet of one piece: its label, and the blocks cut on this surface, in order. */
export type SheetMaker = (label: string, blocks: readonly CutBlock[]) => string;

const MARGIN = 5;
const LEAST_WIDTH = 96;
const LABEL_MM = 7;
const LABEL_LINES = 3;
const KEY_COLUMN = 17;

export const TRUE_SIZE = 'true size: check the bar with a rule before use';

/** As a SheetMaker, with the chunks that sheets share encoded once. */
export type SheetSetter = (label: string, blocks: readonly CutBlock[]) => TextChunks;

/**
 * Sets the sheets of one surface. The shared part is drawn once; each piece then costs only its label, and each
 * block's path is written once for all pieces that carry it.
 */
export function sheetSetter(scene: SheetScene): SheetSetter {
  const { opening, body, closing, matrix, label: place } = sharedPart(scene);
  const [first, second, last] = [encodeText(opening), encodeText(body), encodeText(closing)];
  const widths = cutWidths(scene.marks);
  const paths = new Map<string, Uint8Array>();
  const pathOf = (block: CutBlock): Uint8Array => {
    const known = paths.get(block.key);
    if (known !== undefined) return known;
    const path = encodeText(blockPaths(scene.surface, scene.view, block, widths));
    paths.set(block.key, path);
    return path;
  };
  return (label, blocks) => [
    first,
    ` data-label="${attribute(label)}"`,
    second,
    cutGroupStart(matrix, label),
    ...blocks.map(pathOf),
    CUT_GROUP_END,
    labelType(label, place),
    last,
  ];
}

/** A maker of sheets as whole texts. */
export function sheetMaker(scene: SheetScene): SheetMaker {
  const set = sheetSetter(scene);
  return (label, blocks) => joinChunks(set(label, blocks));
}

interface LabelPlace {
  readonly x: number;
  readonly y: number;
  readonly width: number;
}

/** The label, set as large as its line allows. Joined text only: this is done for every piece. */
function labelType(label: string, { x, y, width }: LabelPlace): string {
  const { size, lines } = fitted(shown(label), width, LABEL_MM, LABEL_LINES);
  const leading = size * 1.15;
  const first = y - (lines.length - 1) * leading;
  const spans = lines
    .map((line, k) => `<tspan x="${figure(x)}" y="${figure(first + k * leading)}">${content(line)}</tspan>`)
    .join('');
  return `<text data-role="label" font-family="${SERIF}" font-size="${figure(size)}" fill="${INK}">${spans}</text>`;
}

interface SharedPart {
  readonly opening: string;
  readonly body: string;
  readonly closing: string;
  readonly matrix: string;
  readonly label: LabelPlace;
}

/** Stands in the root's own tag, before any text of people's. */
const LABEL_HOLE = ' data-hole="label"';

function sharedPart(scene: SheetScene): SharedPart {
  const { surface } = scene;
  const bounds = boundsOf(surface);
  const room = guideRoom(surface);
  const pictureWidth = room.left + (bounds.right - bounds.left) + room.right;
  const width = Math.max(LEAST_WIDTH, pictureWidth + 2 * MARGIN);
  const inner = width - 2 * MARGIN;
  const frame: Frame = {
    x: (width - pictureWidth) / 2 + room.left - bounds.left,
    y: MARGIN + room.top + bounds.top,
    scale: 1,
  };
  const svg = blankSheet(width, width, `${scene.edition}: ${scene.part.name}, surface ${surface.id}`);
  svg.attr('data-hole', 'label');
  drawSurface(svg, scene, frame);
  drawGuides(svg, surface, scene.view, frame);
  hole(svg);

  let y = frame.y - bounds.bottom + room.bottom + 4;
  drawBar(svg, MARGIN, y, 10, 1, TRUE_SIZE);
  y += 4;
  const block = named(svg, 'title');
  draw(block, `M${figure(MARGIN)} ${figure(y)}L${figure(width - MARGIN)} ${figure(y)}`, {
    stroke: INK,
    width: 0.25,
  });
  y += LABEL_MM + 2.5;
  const label: LabelPlace = { x: MARGIN, y, width: inner };
  y = drawEntries(block, entriesOf(scene), MARGIN, y + 2.5, KEY_COLUMN, inner);
  sized(svg, width, y + MARGIN - 1);

  const [before, after] = written(svg).split(HOLE) as [string, string];
  const first = before.indexOf(LABEL_HOLE);
  return {
    opening: before.slice(0, first),
    body: before.slice(first + LABEL_HOLE.length),
    closing: `${after}\n`,
    matrix: frameMatrix(frame),
    label,
  };
}

const entriesOf = (scene: SheetScene): Entry[] => [
  { key: 'Edition', value: `${scene.edition} \u00b7 ${scene.bench}` },
  { key: 'Part', value: `${scene.part.name}, surface ${scene.surface.id}` },
  ...scene.marks.map((one) => ({ key: one.name, value: markWords(one) })),
  ...scene.designs.map(({ name, digest }) => ({
    key: 'Design',
    value: `${name} \u00b7 ${shortDigest(digest)}`,
  })),
];
