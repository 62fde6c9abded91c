import type { PathCommand } from '../../geometry/path-command.js';
import type { Problem } from '../../problem.js';
import { problem } from '../messages.js';
import { leadingNumbers } from './css-values.js';
import { pathString } from './properties.js';
import { MOST_SEGMENTS, readPath } from './read-path.js';
import type { Style } from './style.js';
import type { Element } from './tree.js';

export interface Shape {
  readonly path: readonly PathCommand[];
  /** What of it could not be read. */
  readonly fault?: Problem;
}

/** Reads a length of a shape by the name of its attribute or property, in user units. */
export type Size = (name: string, along: 'x' | 'y' | 'diagonal') => number | undefined;

const SHAPES: ReadonlySet<string> = new Set([
  'path',
  'rect',
  'circle',
  'ellipse',
  'line',
  'polyline',
  'polygon',
]);

export const isShape = (name: string): boolean => SHAPES.has(name);

/** The path of a shape in its own units (SVG 2, 9 and 10). */
export function shapeOf(element: Element, style: Style, size: Size): Shape {
  const x = (name: string): number => size(name, 'x') ?? 0;
  const y = (name: string): number => size(name, 'y') ?? 0;
  const radius = (name: string, along: 'x' | 'y'): number | undefined => {
    const value = size(name, along);
    // One that cannot be read is no radius; one that is not given is like the other.
    if (value === undefined && style[name] === '' && element.attributes.has(name)) return 0;
    if (value === undefined) return undefined;
    // A style is kept within its bounds, as where a sum comes to less than nothing.
    return value >= 0 ? value : style[name] === '' ? undefined : 0;
  };
  switch (element.name) {
    case 'path':
      return pathShape(element, style);
    case 'rect': {
      const [rx, ry] = [radius('rx', 'x'), radius('ry', 'y')];
      return { path: rectangle(x('x'), y('y'), x('width'), y('height'), rx ?? ry ?? 0, ry ?? rx ?? 0) };
    }
    case 'circle': {
      const r = size('r', 'diagonal') ?? 0;
      return { path: ellipse(x('cx'), y('cy'), r, r) };
    }
    case 'ellipse': {
      const [rx, ry] = [radius('rx', 'x'), radius('ry', 'y')];
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
      const { numbers, whole } = leadingNumbers(
        element.attributes.get('points') ?? '',
        2 * MOST_SEGMENTS + 2,
      );
      const path = pathThrough(numbers, element.name === 'polygon');
      if (whole && numbers.length % 2 === 0) return { path };
      return { path, fault: problem('artwork.unread-points', element.where, {}) };
    }
  }
}

function pathShape(element: Element, style: Style): Shape {
  const data = style.d === '' ? element.attributes.get('d') : pathString(style.d!);
  const { path, isWhole } = readPath(data ?? '');
  if (isWhole) return { path };
  return { path, fault: problem('artwork.unread-path-data', element.where, { segments: path.length }) };
}

function pathThrough(points: readonly number[], closed: boolean): PathCommand[] {
  const path: PathCommand[] = [];
  for (let i = 0; i + 1 < points.length; i += 2) path.push([i === 0 ? 'M' : 'L', points[i]!, points[i + 1]!]);
  if (closed && path.length > 0) path.push(['Z']);
  return path;
}

const ellipse = (cx: number, cy: number, rx: number, ry: number): readonly PathCommand[] =>
  rx > 0 && ry > 0
    ? readPath(
        `M${cx + rx} ${cy}A${rx} ${ry} 0 0 1 ${cx} ${cy + ry}A${rx} ${ry} 0 0 1 ${cx - rx} ${cy}A${rx} ${ry} 0 0 1 ${cx} ${cy - ry}A${rx} ${ry} 0 0 1 ${cx + rx} ${cy}Z`,
      ).path
    : [];

function rectangle(
  x: number,
  y: number,
  w: number,
  h: number,
  rxGiven: number,
  ryGiven: number,
): readonly PathCommand[] {
  if (!(w > 0 && h > 0)) return [];
  const [rx, ry] = [Math.min(rxGiven, w / 2), Math.min(ryGiven, h / 2)];
  if (rx === 0 || ry === 0)
    return [['M', x, y], ['L', x + w, y], ['L', x + w, y + h], ['L', x, y + h], ['Z']];
  const turn = (toX: number, toY: number) => `A${rx} ${ry} 0 0 1 ${toX} ${toY}`;
  return readPath(
    [
      `M${x + rx} ${y}L${x + w - rx} ${y}${turn(x + w, y + ry)}`,
      `L${x + w} ${y + h - ry}${turn(x + w - rx, y + h)}`,
      `L${x + rx} ${y + h}${turn(x, y + h - ry)}`,
      `L${x} ${y + ry}${turn(x + rx, y)}Z`,
    ].join(''),
  ).path;
}
