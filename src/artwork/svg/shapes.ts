import type { PathCommand } from '../../geometry/path-command.js';
import { MOST_SEGMENTS, readPath } from './path-data.js';
import type { Element } from './tree.js';
import { leadingNumbers, lengthOf } from './units.js';
import { diagonal, type Viewport } from './viewport.js';

export interface Shape {
  readonly path: readonly PathCommand[];
  /** What of it could not be read, as words. */
  readonly fault?: string;
}

const SHAPES = new Set(['path', 'rect', 'circle', 'ellipse', 'line', 'polyline', 'polygon']);

export const isShape = (name: string): boolean => SHAPES.has(name);

/** The path of a shape in its own units (SVG 2, 9 and 10). */
export function shapeOf({ name, attributes }: Element, viewport: Viewport): Shape {
  const x = (key: string): number => lengthOf(attributes.get(key), viewport.width) ?? 0;
  const y = (key: string): number => lengthOf(attributes.get(key), viewport.height) ?? 0;
  const maybe = (key: string, whole: number): number | undefined => {
    const value = lengthOf(attributes.get(key), whole);
    return value === undefined || value < 0 ? undefined : value;
  };
  switch (name) {
    case 'path': {
      const { path, fault } = readPath(attributes.get('d') ?? '');
      return fault === undefined
        ? { path }
        : { path, fault: `data at fault from character ${fault + 1} on; it is drawn up to there` };
    }
    case 'rect': {
      const [rx, ry] = [maybe('rx', viewport.width), maybe('ry', viewport.height)];
      return { path: rectangle(x('x'), y('y'), x('width'), y('height'), rx ?? ry ?? 0, ry ?? rx ?? 0) };
    }
    case 'circle': {
      const r = lengthOf(attributes.get('r'), diagonal(viewport)) ?? 0;
      return { path: ellipse(x('cx'), y('cy'), r, r) };
    }
    case 'ellipse': {
      const [rx, ry] = [maybe('rx', viewport.width), maybe('ry', viewport.height)];
      return { path: ellipse(x('cx'), y('cy'), rx ?? ry ?? 0, ry ?? rx ?? 0) };
    }
    case 'line':
      return {
        path: [
          ['M', x('x1'), y('y1')],
          ['L', x('x2'), y('y2')],
        ],
      };
    default: {
      const { numbers, whole } = leadingNumbers(attributes.get('points') ?? '', 2 * MOST_SEGMENTS + 2);
      const path = through(numbers, name === 'polygon');
      return whole && numbers.length % 2 === 0 ? { path } : { path, fault: 'points that cannot all be read' };
    }
  }
}

function through(points: readonly number[], closed: boolean): PathCommand[] {
  const path: PathCommand[] = [];
  for (let i = 0; i + 1 < points.length; i += 2) path.push([i === 0 ? 'M' : 'L', points[i]!, points[i + 1]!]);
  if (closed && path.length > 0) path.push(['Z']);
  return path;
}

const ellipse = (cx: number, cy: number, rx: number, ry: number): PathCommand[] =>
  rx > 0 && ry > 0
    ? [
        ...readPath(
          `M${cx + rx} ${cy}A${rx} ${ry} 0 0 1 ${cx} ${cy + ry}A${rx} ${ry} 0 0 1 ${cx - rx} ${cy}A${rx} ${ry} 0 0 1 ${cx} ${cy - ry}A${rx} ${ry} 0 0 1 ${cx + rx} ${cy}Z`,
        ).path,
      ]
    : [];

function rectangle(
  x: number,
  y: number,
  w: number,
  h: number,
  rxGiven: number,
  ryGiven: number,
): PathCommand[] {
  if (!(w > 0 && h > 0)) return [];
  const [rx, ry] = [Math.min(rxGiven, w / 2), Math.min(ryGiven, h / 2)];
  if (rx === 0 || ry === 0)
    return [['M', x, y], ['L', x + w, y], ['L', x + w, y + h], ['L', x, y + h], ['Z']];
  const turn = (toX: number, toY: number) => `A${rx} ${ry} 0 0 1 ${toX} ${toY}`;
  const d = [
    `M${x + rx} ${y}L${x + w - rx} ${y}${turn(x + w, y + ry)}`,
    `L${x + w} ${y + h - ry}${turn(x + w - rx, y + h)}`,
    `L${x + rx} ${y + h}${turn(x, y + h - ry)}`,
    `L${x} ${y + ry}${turn(x + rx, y)}Z`,
  ].join('');
  return [...readPath(d).path];
}
