import type { Element } from '@svgdotjs/svg.js';
import type { CutBlock } from '../cutting/cuts.js';
import { encodeText, joinChunks, type TextChunks } from '../text-chunks.js';
import { addCutGroup, blockWriter } from './block-drawing.js';
import { displayText } from './display-text.js';
import { drawBar, drawGuides, guideSpace } from './guides.js';
import { formatCoordinate } from './readable-numbers.js';
import { boundsOf, drawSurface, type Frame, frameMatrix, type SurfaceView } from './surface-drawing.js';
import {
  addElement,
  addGroup,
  addSlot,
  blankSheet,
  type Canvas,
  drawRule,
  setAttributes,
  setSize,
  slot,
} from './svg-canvas.js';
import { elementTemplate, sheetTemplate, type Template } from './svg-template.js';
import { fitText } from './text-fit.js';
import { INK, SERIF } from './theme.js';
import {
  cutWidths,
  describeMark,
  drawEntries,
  type Entry,
  type SheetDesign,
  type SheetMark,
  shortDigest,
} from './title-block.js';

/** One surface of the piece, and what is cut on it. Everything a sheet shows that is the same on every piece. */
export interface SheetScene extends SurfaceView {
  /** The bench, as it appears on sheets. */
  readonly bench: string;
  readonly edition: string;
  readonly designs: readonly SheetDesign[];
  /** One for each mark cut on this surface, in order. */
  readonly marks: readonly SheetMark[];
}

/** Writes the sheet of one piece: its label, and the blocks cut on this surface, in order. */
export type SheetWriter = (label: string, blocks: readonly CutBlock[]) => TextChunks;

const MARGIN = 5;
const LEAST_WIDTH = 96;
const LABEL_MM = 7;
const LABEL_LINES = 3;
const KEY_COLUMN = 17;

export const TRUE_SIZE = 'true size: check the bar with a rule before use';

/**
 * A writer of the sheets of one surface. The sheet is drawn once, as a template; each piece then costs only its label,
 * and each block's path is written once for all pieces that have it.
 */
export function sheetWriter(canvas: Canvas, scene: SheetScene): SheetWriter {
  const { template, labelArea } = drawSheet(canvas, scene);
  const writeBlock = blockWriter(canvas, scene.surface, scene.viewAngle, cutWidths(scene.marks));
  const writeLabel = labelWriter(canvas, labelArea);
  const paths = new Map<string, Uint8Array>();
  const pathsOf = (block: CutBlock): Uint8Array => {
    const known = paths.get(block.key);
    if (known !== undefined) return known;
    const written = encodeText(writeBlock(block));
    paths.set(block.key, written);
    return written;
  };
  return (label, blocks) =>
    template.fill({
      label,
      paths: { markup: blocks.map(pathsOf) },
      labelText: { raw: writeLabel(label) },
    });
}

/** The sheet of one piece as a text. */
export const writeSheet = (
  canvas: Canvas,
  scene: SheetScene,
  label: string,
  blocks: readonly CutBlock[],
): string => joinChunks(sheetWriter(canvas, scene)(label, blocks));

interface LabelArea {
  readonly x: number;
  /** Baseline of the last line. */
  readonly y: number;
  readonly width: number;
}

/** Writes labels, each as large as its lines allow. */
function labelWriter(canvas: Canvas, { x, y, width }: LabelArea): (label: string) => string {
  const templates = new Map<number, Template<string>>();
  const templateFor = (count: number): Template<string> => {
    const known = templates.get(count);
    if (known) return known;
    const made = elementTemplate(canvas, (parent) => drawLabel(parent, x, count));
    templates.set(count, made);
    return made;
  };
  return (label) => {
    const { size, lines } = fitText(displayText(label), width, LABEL_MM, LABEL_LINES);
    const leading = size * 1.15;
    const first = y - (lines.length - 1) * leading;
    return templateFor(lines.length).write({
      size: { raw: formatCoordinate(size) },
      ...Object.fromEntries(
        lines.flatMap((line, k) => [
          [`y${k}`, { raw: formatCoordinate(first + k * leading) }],
          [`line${k}`, line],
        ]),
      ),
    });
  };
}

function drawLabel(parent: Element, x: number, count: number): void {
  const text = addElement(parent, 'text', {
    'data-role': 'label',
    'font-family': SERIF,
    'font-size': slot('size'),
    fill: INK,
  });
  for (let k = 0; k < count; k++) {
    const line = addElement(text, 'tspan', { x: formatCoordinate(x), y: slot(`y${k}`) });
    addSlot(line, `line${k}`);
  }
}

function drawSheet(
  canvas: Canvas,
  scene: SheetScene,
): { readonly template: Template<'label' | 'paths' | 'labelText'>; readonly labelArea: LabelArea } {
  const { surface } = scene;
  const bounds = boundsOf(surface);
  const guides = guideSpace(surface);
  const pictureWidth = guides.left + (bounds.right - bounds.left) + guides.right;
  const width = Math.max(LEAST_WIDTH, pictureWidth + 2 * MARGIN);
  const inner = width - 2 * MARGIN;
  const frame: Frame = {
    x: (width - pictureWidth) / 2 + guides.left - bounds.left,
    y: MARGIN + guides.top + bounds.top,
    scale: 1,
  };
  const svg = blankSheet(canvas, width, width, `${scene.edition}: ${scene.part.name}, surface ${surface.id}`);
  setAttributes(svg, { 'data-label': slot('label') });
  drawSurface(svg, scene, frame);
  drawGuides(svg, surface, scene.viewAngle, frame);
  addSlot(addCutGroup(svg, frameMatrix(frame), slot('label')), 'paths');
  addSlot(svg, 'labelText');

  let y = frame.y - bounds.bottom + guides.bottom + 4;
  drawBar(svg, MARGIN, y, 10, 1, TRUE_SIZE);
  y += 4;
  const block = addGroup(svg, 'title');
  drawRule(block, MARGIN, width - MARGIN, y, 0.25);
  y += LABEL_MM + 2.5;
  const labelArea: LabelArea = { x: MARGIN, y, width: inner };
  y = drawEntries(block, entriesOf(scene), MARGIN, y + 2.5, KEY_COLUMN, inner);
  setSize(svg, width, y + MARGIN - 1);
  return { template: sheetTemplate(svg), labelArea };
}

const entriesOf = (scene: SheetScene): Entry[] => [
  { key: 'Edition', value: `${scene.edition} \u00b7 ${scene.bench}` },
  { key: 'Part', value: `${scene.part.name}, surface ${scene.surface.id}` },
  ...scene.marks.map((one) => ({ key: one.name, value: describeMark(one) })),
  ...scene.designs.map(({ name, digest }) => ({
    key: 'Design',
    value: `${name} \u00b7 ${shortDigest(digest)}`,
  })),
];
