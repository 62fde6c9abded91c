import type { CutBlock } from '../cutting/cuts.js';
import { blockPaths, cutGroup } from './cut-path.js';
import { shownData } from './figures.js';
import { drawGuides, guideRoom } from './guides.js';
import { blankSheet, HOLE, hole, sized, written } from './paper.js';
import { boundsOf, drawSurface, type Frame, frameMatrix, type Pictured } from './picture.js';
import { shown } from './text.js';
import { cutWidths, type SheetMark } from './title-block.js';

const SCALES = [1, 0.5, 0.2, 0.1];
const ROOM = { across: 75, along: 105 } as const;
const EDGE = 1;

/** A picture of a surface for the page: the blocks of one piece where they are cut, true size where there is room. */
export function runPicture(
  pictured: Pictured,
  marks: readonly SheetMark[],
  label: string,
  blocks: readonly CutBlock[],
  title: string,
): { readonly svg: string; readonly scale: number } {
  const bounds = boundsOf(pictured.surface);
  const room = guideRoom(pictured.surface);
  const [across, along] = [bounds.right - bounds.left, bounds.top - bounds.bottom];
  const scale = SCALES.find((s) => across * s <= ROOM.across && along * s <= ROOM.along) ?? SCALES.at(-1)!;
  const frame: Frame = {
    x: EDGE + room.left - bounds.left * scale,
    y: EDGE + room.top + bounds.top * scale,
    scale,
  };
  const svg = blankSheet(1, 1, title);
  sized(
    svg,
    across * scale + room.left + room.right + 2 * EDGE,
    along * scale + room.top + room.bottom + 2 * EDGE,
  );
  svg.attr({ role: 'img', 'aria-label': shown(title) });
  drawSurface(svg, pictured, frame);
  drawGuides(svg, pictured.surface, pictured.view, frame);
  hole(svg);
  const widths = cutWidths(marks);
  const paths = blocks.map((block) => blockPaths(pictured.surface, pictured.view, block, widths, shownData));
  return {
    svg: written(svg)
      .split(HOLE)
      .join(cutGroup(frameMatrix(frame), label, paths)),
    scale,
  };
}
