import type { ReadCut } from '../station/readback.js';
import type { Surface } from '../surface/surface.js';
import { ROUND } from './block-drawing.js';
import { extentOf } from './extent.js';
import { formatCoordinate } from './readable-numbers.js';
import { addElement, addSlot, type Canvas, emptySvg, setSize, slot } from './svg-canvas.js';
import { elementTemplate, sheetTemplate } from './svg-template.js';
import { INK, PAPER } from './theme.js';

const MARGIN_MM = 1;

/**
 * What a program cuts, drawn as SVG from its own moves as read back: no layout has a part in it. Each move is as wide
 * as `widthAt` says its depth leaves it, mm. The middle of the cuts is at the middle of the picture.
 */
export function readbackPicture(
  canvas: Canvas,
  surface: Surface,
  cuts: readonly ReadCut[],
  widthAt: (depth: number) => number,
): string {
  const steps = cuts.flatMap((cut) => cut.steps);
  const [first, last] = extentOf(steps.flatMap(({ from, to }) => [from.angle, to.angle]));
  const viewAngle = (first + last) / 2;
  const lines = steps.map(({ from, to }) => ({
    from: surface.toSheet(from.z, from.angle - viewAngle),
    to: surface.toSheet(to.z, to.angle - viewAngle),
    width: widthAt(Math.max(from.depth, to.depth)),
  }));
  const [left, right] = extentOf(lines.flatMap((l) => [l.from[0], l.to[0]]));
  const [bottom, top] = extentOf(lines.flatMap((l) => [l.from[1], l.to[1]]));
  const margin = MARGIN_MM + extentOf(lines.map((l) => l.width))[1] / 2;
  const at = ([x, y]: readonly [number, number]) =>
    `${formatCoordinate(x - left + margin)} ${formatCoordinate(top + margin - y)}`;

  const svg = emptySvg(canvas);
  const [width, height] = [right - left + 2 * margin, top - bottom + 2 * margin];
  setSize(svg, width, height);
  addElement(svg, 'rect', {
    width: formatCoordinate(width),
    height: formatCoordinate(height),
    fill: PAPER,
  });
  const group = addElement(svg, 'g', {
    fill: 'none',
    stroke: INK,
    'stroke-linecap': ROUND['stroke-linecap'],
  });
  addSlot(group, 'moves');
  const move = elementTemplate<'data' | 'width'>(canvas, (parent) => {
    addElement(parent, 'path', { d: slot('data'), 'stroke-width': slot('width') });
  });
  const moves = lines.map((l) =>
    move.write({
      data: { raw: `M${at(l.from)}L${at(l.to)}` },
      width: { raw: formatCoordinate(Math.max(l.width, 0.001)) },
    }),
  );
  return sheetTemplate<'moves'>(svg).write({ moves: { markup: moves } });
}
