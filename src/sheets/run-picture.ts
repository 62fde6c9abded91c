import type { CutBlock } from '../cutting/cuts.js';
import { addCutGroup, blockWriter } from './block-drawing.js';
import { drawGuides, guideSpace } from './guides.js';
import { simplifiedPathData } from './path-data.js';
import { boundsOf, drawSurface, type Frame, frameMatrix, type SurfaceView } from './surface-drawing.js';
import { addSlot, blankSheet, type Canvas, setAttributes, setSize, slot, toXml } from './svg-canvas.js';
import { templateOf } from './svg-template.js';
import { cutWidths, type SheetMark } from './title-block.js';

const SCALES = [1, 0.5, 0.2, 0.1];
const ROOM = { across: 75, along: 105 } as const;
const EDGE = 1;

/** A picture of a surface for the run sheet: the blocks of one piece where they are cut, true size if there is room. */
export function runPicture(
  canvas: Canvas,
  view: SurfaceView,
  marks: readonly SheetMark[],
  label: string,
  blocks: readonly CutBlock[],
  title: string,
): { readonly svg: string; readonly scale: number } {
  const bounds = boundsOf(view.surface);
  const guides = guideSpace(view.surface);
  const [across, along] = [bounds.right - bounds.left, bounds.top - bounds.bottom];
  const scale = SCALES.find((s) => across * s <= ROOM.across && along * s <= ROOM.along) ?? SCALES.at(-1)!;
  const frame: Frame = {
    x: EDGE + guides.left - bounds.left * scale,
    y: EDGE + guides.top + bounds.top * scale,
    scale,
  };
  const svg = blankSheet(canvas, 1, 1, title);
  setSize(
    svg,
    across * scale + guides.left + guides.right + 2 * EDGE,
    along * scale + guides.top + guides.bottom + 2 * EDGE,
  );
  setAttributes(svg, { role: 'img', 'aria-label': title });
  drawSurface(svg, view, frame);
  drawGuides(svg, view.surface, view.viewAngle, frame);
  addSlot(addCutGroup(svg, frameMatrix(frame), slot('label')), 'paths');
  const write = blockWriter(canvas, view.surface, view.viewAngle, cutWidths(marks), simplifiedPathData);
  const picture = templateOf<'label' | 'paths'>(toXml(svg));
  return { svg: picture.write({ label, paths: { markup: blocks.map(write) } }), scale };
}
