import type { Element } from '@svgdotjs/svg.js';
import type { CutBlock } from '../cutting/cuts.js';
import type { Surface } from '../surface/surface.js';
import { type BlockCopy, copiesOnPicture } from './block-copies.js';
import { type LineWriter, pathData } from './path-data.js';
import { formatCoordinate } from './readable-numbers.js';
import { addElement, addGroup, type Canvas, type Slot, slot } from './svg-canvas.js';
import { elementTemplate, type Template } from './svg-template.js';
import { INK } from './theme.js';

/** Cut lines have round ends and corners, as a turning or dragged cutter leaves them. */
export const ROUND = { 'stroke-linecap': 'round', 'stroke-linejoin': 'round' } as const;

/** How cut lines are drawn, before the width of each. */
export const CUT_LINES = { fill: 'none', stroke: INK } as const;

/** Path data of one copy of a block. */
export const copyData = (copy: BlockCopy, write: LineWriter = pathData): string =>
  copy.lines.map(({ points, closed }) => write(points, closed)).join('');

/** A group for cuts in a surface's own frame (`frameMatrix`), under the label of their piece. */
export const addCutGroup = (parent: Element, matrix: string, label: string | Slot): Element =>
  addGroup(parent, 'cut', { 'data-label': label, transform: matrix, ...CUT_LINES, ...ROUND });

/** Writes the paths of a block on a picture: one, and a second where it comes within reach of the other end. */
export type BlockWriter = (block: CutBlock) => string;

type PathSlot = 'mark' | 'name' | 'width' | 'data';

/**
 * A writer of blocks on one surface's picture. Lines are as wide as their cut by `widths`, mm by mark; an area that is
 * cut away is filled. Throws a RangeError for a mark without a width.
 */
export function blockWriter(
  canvas: Canvas,
  surface: Surface,
  viewAngle: number,
  widths: ReadonlyMap<string, number>,
  write: LineWriter = pathData,
): BlockWriter {
  const templates = new Map<string, Template<PathSlot>>();
  const templateFor = (area: boolean, second: boolean): Template<PathSlot> => {
    const key = `${area} ${second}`;
    const known = templates.get(key);
    if (known) return known;
    const made = elementTemplate<PathSlot>(canvas, (parent) => drawBlockPath(parent, area, second));
    templates.set(key, made);
    return made;
  };
  return (block) => {
    const width = widths.get(block.mark);
    if (width === undefined) throw new RangeError(`no cut width is known for mark ${block.mark}`);
    return copiesOnPicture(surface, block, viewAngle)
      .map((copy, k) =>
        templateFor(block.area !== undefined, k > 0).write({
          mark: block.mark,
          name: block.name,
          width: { raw: formatCoordinate(width) },
          data: { raw: copyData(copy, write) },
        }),
      )
      .join('');
  };
}

function drawBlockPath(parent: Element, area: boolean, second: boolean): void {
  addElement(parent, 'path', {
    'data-mark': slot('mark'),
    'data-name': slot('name'),
    'data-copy': second ? 'true' : undefined,
    ...(area ? { fill: INK, stroke: 'none' } : { 'stroke-width': slot('width') }),
    d: slot('data'),
  });
}
