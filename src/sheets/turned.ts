import type { CutBlock } from '../cutting/cuts.js';
import type { Keepout, Part } from '../documents/schema/part.js';
import type { Polyline } from '../geometry/path.js';
import { diameterAt, type Surface } from '../surface/surface.js';
import { nearDeg, toRad } from '../units.js';
import { pictured } from './cut-path.js';
import { figure } from './figures.js';
import { INK, PAPER, QUIET, SANS, SECOND, SMALL_MM } from './look.js';
import { attribute, content } from './text.js';

/** A part with what is cut on it, to be seen as it lies in the hand. */
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

/** Sides it is seen from, degrees from the index line. */
const VIEWS = [0, 90, 180, 270];
const SCALE = 3;
const MARGIN = 10;
const GAP = 8;
const FOOT = 9;

/**
 * The part drawn upright from four sides, enlarged: its outline, its keep-outs, and every cut on the near side as it
 * is seen, drawn together toward the edges. Seen from so far away that nothing grows smaller with distance.
 */
export function turnedView(scene: TurnedScene): string {
  const { part } = scene;
  const zs = part.profile.map((s) => s.z);
  const [z0, z1] = [Math.min(...zs), Math.max(...zs)];
  const wide = Math.max(
    ...part.profile.map((s) => s.diameter),
    ...part.keepouts.map((k) => reachOf(k, part)),
  );
  const width = 2 * MARGIN + VIEWS.length * wide * SCALE + (VIEWS.length - 1) * GAP;
  const height = 2 * MARGIN + (z1 - z0) * SCALE + FOOT + 6;
  const views = VIEWS.map((view, k) => {
    const x = MARGIN + (k + 0.5) * wide * SCALE + k * GAP;
    const y = MARGIN + 6 + z1 * SCALE;
    const named = view === 0 ? 'the index line to the front' : `turned by ${view} degrees`;
    return [
      `<g data-role="view" data-angle="${view}" transform="matrix(${SCALE} 0 0 ${-SCALE} ${figure(x)} ${figure(y)})">`,
      bodyOf(part),
      keepoutsOf(part, view),
      ...scene.surfaces.map((s) => cutsOf(s, view)),
      '</g>',
      words(named, x, height - MARGIN + 2, 'middle', QUIET),
    ].join('');
  });
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${figure(width)}mm" height="${figure(height)}mm"`,
    ` viewBox="0 0 ${figure(width)} ${figure(height)}" font-family="${SANS}">`,
    `<title>${content(scene.title)}</title>`,
    shade(),
    `<rect width="${figure(width)}" height="${figure(height)}" fill="${PAPER}"/>`,
    words(`${scene.title}, ${scene.label}, drawn ${SCALE} : 1`, MARGIN, MARGIN, 'start', INK),
    ...views,
    '</svg>\n',
  ].join('');
}

const words = (text: string, x: number, y: number, anchor: string, fill: string): string =>
  `<text x="${figure(x)}" y="${figure(y)}" font-size="${figure(SMALL_MM)}" text-anchor="${anchor}" fill="${fill}">${content(text)}</text>`;

/** Light from the left, so that the body is seen to be round. */
const shade = (): string =>
  [
    '<defs><linearGradient id="round" x1="0" x2="1" y1="0" y2="0">',
    '<stop offset="0" stop-color="#d9d5cc"/><stop offset="0.32" stop-color="#ffffff"/>',
    '<stop offset="0.7" stop-color="#f1eee8"/><stop offset="1" stop-color="#bdb8ae"/>',
    '</linearGradient></defs>',
  ].join('');

function bodyOf(part: Part): string {
  const right = part.profile.map((s) => `${figure(s.diameter / 2)} ${figure(s.z)}`);
  const left = [...part.profile].reverse().map((s) => `${figure(-s.diameter / 2)} ${figure(s.z)}`);
  const d = `M${[...right, ...left].join('L')}Z`;
  return `<path data-role="body" d="${d}" fill="url(#round)" stroke="${INK}" stroke-width="0.1" stroke-linejoin="round"/>`;
}

/** Breadth a keep-out takes up, mm, seen from any side. */
const reachOf = (keepout: Keepout, part: Part): number =>
  keepout.kind === 'clip' || keepout.kind === 'band'
    ? diameterAt(part.profile, (keepout.from + keepout.to) / 2) + 2 * keepout.height
    : 0;

const KEPT = `fill="none" stroke="${SECOND}" stroke-width="0.09"`;

function keepoutsOf(part: Part, view: number): string {
  const drawn = part.keepouts.map((k) => {
    const r = (z: number) => diameterAt(part.profile, z) / 2;
    if (k.kind === 'band' || k.kind === 'thread') {
      const rows = k.kind === 'thread' ? Math.max(2, Math.round((k.to - k.from) / 0.7)) : 1;
      return Array.from({ length: rows + 1 }, (_, i) => {
        const z = k.from + ((k.to - k.from) * i) / rows;
        return `<path d="M${figure(-r(z))} ${figure(z)}L${figure(r(z))} ${figure(z)}" ${KEPT}/>`;
      }).join('');
    }
    if (k.kind === 'window') {
      const points = k.outline.map(({ z, angle }) => seen(r(z), z, angle, view));
      return points.every((p) => p.hidden)
        ? ''
        : `<path d="M${points.map((p) => p.at).join('L')}Z" ${KEPT}/>`;
    }
    const turned = nearDeg(k.angle - view);
    if (Math.abs(turned) > 100) return '';
    const foot = r((k.from + k.to) / 2);
    const half = ((k.width / 2 / foot) * 180) / Math.PI;
    const xs = [foot, foot + k.height].flatMap((at) =>
      [turned - half, turned + half].map((angle) => at * Math.sin(toRad(angle))),
    );
    const [left, right] = [Math.min(...xs), Math.max(...xs)];
    const d = `M${figure(left)} ${figure(k.from)}H${figure(right)}V${figure(k.to)}H${figure(left)}Z`;
    return `<path d="${d}" fill="${PAPER}" stroke="${SECOND}" stroke-width="0.12"/>`;
  });
  return `<g data-role="keepout">${drawn.join('')}</g>`;
}

interface Seen {
  readonly at: string;
  readonly hidden: boolean;
}

/** A point of the part seen from an angle: what lies behind the edge is drawn at the edge. */
function seen(r: number, z: number, angle: number, view: number): Seen {
  const turned = nearDeg(angle - view);
  const held = Math.max(-90, Math.min(90, turned));
  return { at: `${figure(r * Math.sin(toRad(held)))} ${figure(z)}`, hidden: Math.abs(turned) > 90 };
}

function cutsOf({ surface, blocks, widths }: TurnedSurface, view: number): string {
  const drawings = new Map<string, { mark: string; area: boolean; data: string[] }>();
  for (const block of blocks) {
    // A drawing may have areas and lines, which are drawn as what they are.
    const area = block.area !== undefined;
    const key = `${block.mark} ${area}`;
    const entry = drawings.get(key) ?? { mark: block.mark, area, data: [] };
    drawings.set(key, entry);
    for (const { points, closed } of pictured(block))
      entry.data.push(seenLine(surface, block, points, closed, view));
  }
  const drawn = [...drawings.values()].map(({ mark, area, data }) => {
    const look = area
      ? `fill="${INK}" stroke="none"`
      : `fill="none" stroke="${INK}" stroke-width="${figure(widths.get(mark) ?? 0.1)}"`;
    return `<path data-mark="${attribute(mark)}" ${look} d="${data.join('')}"/>`;
  });
  return `<g data-role="cut" stroke-linecap="round" stroke-linejoin="round">${drawn.join('')}</g>`;
}

/** Points nearer than this to the last drawn are not drawn, mm. */
const FINE_MM = 0.03;

function seenLine(
  surface: Surface,
  block: CutBlock,
  points: Polyline,
  closed: boolean,
  view: number,
): string {
  const n = points.length / 2;
  const at = Array.from({ length: n }, (_, k) => {
    const { z, angle } = surface.toSurfaceNear(points[2 * k]!, points[2 * k + 1]!);
    return { z, ...seen(surface.radius(z), z, block.turn + angle, view) };
  });
  if (block.area) return at.every((p) => p.hidden) ? '' : `M${at.map((p) => p.at).join('L')}Z`;
  let d = '';
  let down = false;
  let [lastX, lastY] = [Number.NaN, Number.NaN];
  for (let k = 0; k < n + (closed ? 1 : 0); k++) {
    const p = at[k % n]!;
    if (p.hidden) {
      down = false;
      continue;
    }
    const [x, y] = p.at.split(' ').map(Number) as [number, number];
    const ends = k === 0 || k >= n - 1 || at[k + 1]?.hidden;
    if (down && !ends && Math.hypot(x - lastX, y - lastY) < FINE_MM) continue;
    d += `${down ? 'L' : 'M'}${p.at}`;
    [lastX, lastY] = [x, y];
    down = true;
  }
  return d;
}
