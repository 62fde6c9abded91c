import type { G, Svg } from '@svgdotjs/svg.js';
import type { Surface } from '../surface/surface.js';
import { nearDeg, wrapDeg } from '../units.js';
import { figure, told } from './figures.js';
import { INK, QUIET, SANS, SMALL_MM, typeWidth } from './look.js';
import { draw, named, type } from './paper.js';
import type { Frame } from './picture.js';

/** Room the guides take outside the surface, mm on the paper. */
export interface GuideRoom {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** A steep cone opens into a fan whose sides lean every way, so figures may stand on any side of it. */
const STEEP_DEG = 10;

export function guideRoom(surface: Surface): GuideRoom {
  const words = ['z mm', told(surface.z0, 2), told(surface.z1, 2)];
  const side = Math.ceil(BESIDE_MM + Math.max(...words.map((w) => typeWidth(w, SMALL_MM))));
  return Math.abs(surface.taper) > STEEP_DEG
    ? { left: side, right: side, top: 9, bottom: 9 }
    : { left: side, right: 7, top: 5.5, bottom: 7 };
}

const TICK = { small: 0.9, middle: 1.5, large: 2.2 } as const;
const Z_STEP_MM = 5;
const CAPITAL = 0.72;
/** From an edge to the figures beside it, mm: the longest tick and a little. */
const BESIDE_MM = TICK.large + 0.7;
/** Ticks closer than this run together in print, mm. */
const CLOSEST_MM = 0.4;

interface Box {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** The index line, a graduated lower edge (degrees) and a graduated side (z, mm), with their figures. */
export function drawGuides(onto: G | Svg, surface: Surface, view: number, frame: Frame): void {
  const group = named(onto, 'guide');
  const at = (z: number, angle: number): Spot => {
    const [x, y] = surface.toSheet(z, angle);
    return [frame.x + x * frame.scale, frame.y - y * frame.scale];
  };
  const taken: Box[] = [];
  /** Sets a text beside a point, `way` out from it; false, and nothing set, where one stands already. */
  const put = (text: string, from: Spot, way: Spot, clear: number, fill: string = INK): boolean => {
    const width = typeWidth(text, SMALL_MM);
    const height = SMALL_MM * CAPITAL;
    const out = clear + (Math.abs(way[0]) * width + Math.abs(way[1]) * height) / 2;
    const [x, y] = [from[0] + way[0] * out, from[1] + way[1] * out];
    const box = {
      left: x - width / 2,
      right: x + width / 2,
      top: y - height * 0.7,
      bottom: y + height * 0.7,
    };
    const hit = (b: Box): boolean =>
      box.left < b.right + 0.5 && b.left < box.right + 0.5 && box.top < b.bottom && b.top < box.bottom;
    if (taken.some(hit)) return false;
    taken.push(box);
    type(group, text, x, y + height / 2, { size: SMALL_MM, fill, anchor: 'middle', family: SANS });
    return true;
  };
  let ticks = '';
  const tick = ([x, y]: Spot, [dx, dy]: Spot, length: number): void => {
    ticks += `M${pair(x, y)}L${pair(x + dx * length, y + dy * length)}`;
  };

  // Along the side: at both ends of the surface first, then wherever there is room.
  const { z0, z1 } = surface;
  const side = outward(at(z0, -180), at(z0, -179.9));
  const inside: number[] = [];
  for (let z = Math.ceil(z0 / Z_STEP_MM) * Z_STEP_MM; z <= z1; z += Z_STEP_MM) inside.push(z);
  for (const z of [...new Set([z0, z1, ...inside])]) {
    const foot = at(z, -180);
    tick(foot, side, z % (2 * Z_STEP_MM) === 0 ? TICK.large : TICK.middle);
    put(told(z, 2), foot, side, BESIDE_MM);
  }

  // Along the lower edge: every 10, 30 and 90 degrees; figures as close as they can stand.
  const gap = Math.abs(at(z0, 0)[0] - at(z0, 15)[0]) / 15;
  const room = typeWidth('330°', SMALL_MM) + 1;
  const step = [30, 90, 180].find((s) => gap * s >= room) ?? 360;
  const marks: { near: number; angle: number }[] = [];
  for (let near = Math.ceil((view - 180) / 10) * 10; near <= view + 180; near += 10)
    marks.push({ near: near - view, angle: wrapDeg(near) });
  const rank = (angle: number): number => (angle % 90 === 0 ? 0 : angle % 30 === 0 ? 1 : 2);
  marks.sort((a, b) => rank(a.angle) - rank(b.angle) || a.near - b.near);
  const apart = [0, 30, 10].map((every) => every === 0 || gap * every >= CLOSEST_MM);
  for (const { near, angle } of marks) {
    if (!apart[rank(angle)]) continue;
    const foot = at(z0, near);
    const down = outward(foot, at(z0 + 0.01, near));
    tick(foot, down, [TICK.large, TICK.middle, TICK.small][rank(angle)]!);
    if (angle % step !== 0) continue;
    put(`${angle}°`, foot, down, BESIDE_MM);
  }
  draw(group, ticks, { stroke: INK, width: 0.12 });

  const index = nearDeg(-view);
  for (const near of index === 180 ? [-180, 180] : [index]) {
    const [foot, head] = [at(z0, near), at(z1, near)];
    const up = outward(head, at(z1 - 0.01, near));
    const tip: Spot = [head[0] + up[0] * 1.4, head[1] + up[1] * 1.4];
    draw(group, `M${pair(...foot)}L${pair(...tip)}`, {
      stroke: QUIET,
      width: 0.15,
      dashes: [2.4, 0.7, 0.4, 0.7],
    });
    put('index', tip, up, 0.7, QUIET);
  }
  // Named above its topmost figure.
  const top = at(z1, -180);
  const past = outward(top, at(z1 - 0.01, -180));
  const half = (Math.abs(side[0]) * typeWidth('z mm', SMALL_MM) + Math.abs(side[1]) * SMALL_MM) / 2;
  const reach = BESIDE_MM + half;
  put('z mm', [top[0] + side[0] * reach, top[1] + side[1] * reach], past, SMALL_MM * CAPITAL, QUIET);
}

/** A bar of `mm` surface millimetres, named. */
export function drawBar(onto: G | Svg, x: number, y: number, mm: number, scale: number, note: string): void {
  const group = named(onto, 'scale');
  const end = x + mm * scale;
  const ends = `M${pair(x, y)}L${pair(end, y)}M${pair(x, y - 1)}L${pair(x, y + 1)}M${pair(end, y - 1)}L${pair(end, y + 1)}`;
  draw(group, ends, { stroke: INK, width: 0.2, cap: 'butt' });
  let halves = '';
  for (let k = 1; k < mm; k++) {
    const tick = k % 5 === 0 ? 0.8 : 0.5;
    halves += `M${pair(x + k * scale, y)}L${pair(x + k * scale, y - tick)}`;
  }
  draw(group, halves, { stroke: INK, width: 0.1 });
  type(group, `${told(mm)} mm`, end + 1.5, y + 0.9, { size: SMALL_MM, fill: INK });
  if (note) {
    const start = end + 1.5 + typeWidth(`${told(mm)} mm`, SMALL_MM) + 2.5;
    type(group, note, start, y + 0.9, { size: SMALL_MM, fill: QUIET });
  }
}

type Spot = readonly [x: number, y: number];

const pair = (x: number, y: number): string => `${figure(x)} ${figure(y)}`;

/** The unit direction from `inner` out past `edge`. */
function outward(edge: Spot, inner: Spot): Spot {
  const [dx, dy] = [edge[0] - inner[0], edge[1] - inner[1]];
  const length = Math.hypot(dx, dy);
  return [dx / length, dy / length];
}
