import type { Element } from '@svgdotjs/svg.js';
import type { CutBlock } from '../cutting/cuts.js';
import type { Keepout, Part } from '../documents/schema/part.js';
import type { Polyline } from '../geometry/path.js';
import { diameterAt } from '../surface/part-profile.js';
import type { Surface } from '../surface/surface.js';
import { nearDeg, toRad } from '../units.js';
import { drawnLines } from './block-copies.js';
import { CUT_LINES, ROUND } from './block-drawing.js';
import { formatCoordinate } from './readable-numbers.js';
import { addElement, addGroup, blankSheet, type Canvas, drawPath, drawText, toXml } from './svg-canvas.js';
import { INK, PAPER, QUIET, SECOND, SMALL_MM } from './theme.js';

/** A part with what is cut on it, to be seen as it looks in the hand. */
export interface TurnedScene {
  readonly title: string;
  readonly label: string;
  readonly part: Part;
  readonly surfaces: readonly TurnedSurface[];
}

export interface TurnedSurface {
  readonly surface: Surface;
  readonly blocks: readonly CutBlock[];
  /** Line widths by mark, mm. */
  readonly widths: ReadonlyMap<string, number>;
}

/** The sides that face the viewer, degrees from the index line. */
const SIDES = [0, 90, 180, 270];
const SCALE = 3;
const MARGIN = 10;
const GAP = 8;
const FOOT = 9;

/**
 * The part drawn upright from four sides, enlarged, as SVG: its outline, its keep-outs, and every cut on the near side,
 * foreshortened toward the edges. Parallel projection: nothing grows smaller with distance.
 */
export function turnedView(canvas: Canvas, scene: TurnedScene): string {
  const { part } = scene;
  const zs = part.profile.map((s) => s.z);
  const [z0, z1] = [Math.min(...zs), Math.max(...zs)];
  const wide = Math.max(
    ...part.profile.map((s) => s.diameter),
    ...part.keepouts.map((k) => breadthOf(k, part)),
  );
  const width = 2 * MARGIN + SIDES.length * wide * SCALE + (SIDES.length - 1) * GAP;
  const height = 2 * MARGIN + (z1 - z0) * SCALE + FOOT + 6;
  const svg = blankSheet(canvas, width, height, scene.title);
  addShade(svg);
  addElement(svg, 'rect', {
    width: formatCoordinate(width),
    height: formatCoordinate(height),
    fill: PAPER,
  });
  const heading = `${scene.title}, ${scene.label}, drawn ${SCALE} : 1`;
  drawText(svg, heading, MARGIN, MARGIN, { size: SMALL_MM, fill: INK });
  SIDES.forEach((side, k) => {
    const x = MARGIN + (k + 0.5) * wide * SCALE + k * GAP;
    const y = MARGIN + 6 + z1 * SCALE;
    const matrix = `matrix(${SCALE} 0 0 ${-SCALE} ${formatCoordinate(x)} ${formatCoordinate(y)})`;
    const group = addGroup(svg, 'view', { 'data-angle': String(side), transform: matrix });
    drawBody(group, part);
    drawKeepouts(group, part, side);
    for (const surface of scene.surfaces) drawCuts(group, surface, side);
    const caption = side === 0 ? 'index line to the front' : `turned by ${side}\u00b0`;
    drawText(svg, caption, x, height - MARGIN + 2, { size: SMALL_MM, fill: QUIET, anchor: 'middle' });
  });
  return `${toXml(svg)}\n`;
}

const SHADE = 'round';

/** Light from the left, so that the body is seen to be round. */
function addShade(svg: Element): void {
  const defs = addElement(svg, 'defs');
  const shade = addElement(defs, 'linearGradient', { id: SHADE, x1: '0', x2: '1', y1: '0', y2: '0' });
  for (const [offset, colour] of [
    ['0', '#d9d5cc'],
    ['0.32', '#ffffff'],
    ['0.7', '#f1eee8'],
    ['1', '#bdb8ae'],
  ] as const)
    addElement(shade, 'stop', { offset, 'stop-color': colour });
}

const pointData = (x: number, z: number): string => `${formatCoordinate(x)} ${formatCoordinate(z)}`;

function drawBody(parent: Element, part: Part): void {
  const right = part.profile.map((s) => pointData(s.diameter / 2, s.z));
  const left = [...part.profile].reverse().map((s) => pointData(-s.diameter / 2, s.z));
  addElement(parent, 'path', {
    'data-role': 'body',
    d: `M${[...right, ...left].join('L')}Z`,
    fill: `url(#${SHADE})`,
    stroke: INK,
    'stroke-width': '0.1',
    'stroke-linejoin': 'round',
  });
}

/** Breadth that a keep-out takes up, mm, seen from any side. */
const breadthOf = (keepout: Keepout, part: Part): number =>
  keepout.kind === 'clip' || keepout.kind === 'band'
    ? diameterAt(part.profile, (keepout.from + keepout.to) / 2) + 2 * keepout.height
    : 0;

const EDGE_PEN = { stroke: SECOND, width: 0.09 } as const;

function drawKeepouts(parent: Element, part: Part, side: number): void {
  const group = addGroup(parent, 'keepout');
  const radius = (z: number): number => diameterAt(part.profile, z) / 2;
  for (const k of part.keepouts)
    if (k.kind === 'band' || k.kind === 'thread') drawRings(group, k, radius);
    else if (k.kind === 'window') {
      const points = k.outline.map(({ z, angle }) => project(radius(z), z, angle, side));
      if (!points.every((p) => p.hidden))
        drawPath(group, `M${points.map((p) => pointData(p.x, p.z)).join('L')}Z`, EDGE_PEN);
    } else drawClip(group, k, radius, side);
}

/** A band by its two edges, a thread by its turns. */
function drawRings(
  parent: Element,
  ring: Extract<Keepout, { kind: 'band' | 'thread' }>,
  radius: (z: number) => number,
): void {
  const rows = ring.kind === 'thread' ? Math.max(2, Math.round((ring.to - ring.from) / 0.7)) : 1;
  for (let i = 0; i <= rows; i++) {
    const z = ring.from + ((ring.to - ring.from) * i) / rows;
    drawPath(parent, `M${pointData(-radius(z), z)}L${pointData(radius(z), z)}`, EDGE_PEN);
  }
}

function drawClip(
  parent: Element,
  clip: Extract<Keepout, { kind: 'clip' }>,
  radius: (z: number) => number,
  side: number,
): void {
  const angle = nearDeg(clip.angle - side);
  if (Math.abs(angle) > 100) return;
  const foot = radius((clip.from + clip.to) / 2);
  const half = ((clip.width / 2 / foot) * 180) / Math.PI;
  const xs = [foot, foot + clip.height].flatMap((at) =>
    [angle - half, angle + half].map((edge) => at * Math.sin(toRad(edge))),
  );
  const [left, right] = [Math.min(...xs), Math.max(...xs)].map((x) => formatCoordinate(x));
  const [from, to] = [formatCoordinate(clip.from), formatCoordinate(clip.to)];
  const d = `M${left} ${from}H${right}V${to}H${left}Z`;
  drawPath(parent, d, { fill: PAPER, stroke: SECOND, width: 0.12 });
}

interface Projected {
  readonly x: number;
  readonly z: number;
  readonly hidden: boolean;
}

/** A point of the part seen from a side, mm: what is behind the edge is drawn at the edge. */
function project(r: number, z: number, angle: number, side: number): Projected {
  const turned = nearDeg(angle - side);
  const near = Math.max(-90, Math.min(90, turned));
  return { x: r * Math.sin(toRad(near)), z, hidden: Math.abs(turned) > 90 };
}

function drawCuts(parent: Element, { surface, blocks, widths }: TurnedSurface, side: number): void {
  const group = addGroup(parent, 'cut', ROUND);
  const drawings = new Map<string, { mark: string; area: boolean; data: string[] }>();
  for (const block of blocks) {
    // A drawing may have areas and lines, which are drawn as what they are.
    const area = block.area !== undefined;
    const key = `${block.mark} ${area}`;
    const entry = drawings.get(key) ?? { mark: block.mark, area, data: [] };
    drawings.set(key, entry);
    for (const { points, closed } of drawnLines(block))
      entry.data.push(projectedData(surface, block, points, closed, side));
  }
  for (const { mark, area, data } of drawings.values()) {
    const lines = { ...CUT_LINES, 'stroke-width': formatCoordinate(widths.get(mark) ?? 0.1) };
    const style = area ? { fill: INK, stroke: 'none' } : lines;
    addElement(group, 'path', { 'data-mark': mark, ...style, d: data.join('') });
  }
}

/** A point nearer than this to the last drawn is left out, mm. */
const FINE_MM = 0.03;

/** Path data of a line as seen from a side: an area whole, of a line the near parts. */
function projectedData(
  surface: Surface,
  block: CutBlock,
  points: Polyline,
  closed: boolean,
  side: number,
): string {
  const n = points.length / 2;
  const projected = Array.from({ length: n }, (_, k) => {
    const { z, angle } = surface.toSurfaceNear(points[2 * k]!, points[2 * k + 1]!);
    return project(surface.radius(z), z, block.turn + angle, side);
  });
  if (block.area) {
    if (projected.every((p) => p.hidden)) return '';
    return `M${projected.map((p) => pointData(p.x, p.z)).join('L')}Z`;
  }
  let d = '';
  let last: Projected | undefined;
  for (let k = 0; k < n + (closed ? 1 : 0); k++) {
    const p = projected[k % n]!;
    if (p.hidden) {
      last = undefined;
      continue;
    }
    const ends = k === 0 || k >= n - 1 || projected[k + 1]?.hidden;
    if (last && !ends && Math.hypot(p.x - last.x, p.z - last.z) < FINE_MM) continue;
    d += `${last ? 'L' : 'M'}${pointData(p.x, p.z)}`;
    last = p;
  }
  return d;
}
