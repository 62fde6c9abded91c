import type { Element } from '@svgdotjs/svg.js';
import type { Surface } from '../surface/surface.js';
import { nearDeg, wrapDeg } from '../units.js';
import { formatCoordinate, formatNumber } from './readable-numbers.js';
import type { Frame } from './surface-drawing.js';
import { addGroup, drawPath, drawText } from './svg-canvas.js';
import { textWidth } from './text-fit.js';
import { INK, QUIET, SANS, SMALL_MM } from './theme.js';

/** Room the guides take outside the surface, mm on the paper. */
export interface GuideSpace {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** A steep cone opens into a fan whose sides point every way, so numbers may be on any side of it. */
const STEEP_DEG = 10;

export function guideSpace(surface: Surface): GuideSpace {
  const words = ['z mm', formatNumber(surface.z0, 2), formatNumber(surface.z1, 2)];
  const side = Math.ceil(BESIDE_MM + Math.max(...words.map((w) => textWidth(w, SMALL_MM))));
  return Math.abs(surface.taper) > STEEP_DEG
    ? { left: side, right: side, top: 9, bottom: 9 }
    : { left: side, right: 7, top: 5.5, bottom: 7 };
}

const TICK = { small: 0.9, middle: 1.5, large: 2.2 } as const;
const Z_STEP_MM = 5;
const CAPITAL = 0.72;
/** From an edge to the numbers beside it, mm: the longest tick and a little. */
const BESIDE_MM = TICK.large + 0.7;
/** Ticks closer than this run together in print, mm. */
const CLOSEST_MM = 0.4;

interface LabelBox {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** The index line, a graduated lower edge (degrees) and a graduated side (z, mm), with their numbers. */
export function drawGuides(parent: Element, surface: Surface, viewAngle: number, frame: Frame): void {
  const group = addGroup(parent, 'guide');
  const at = (z: number, angle: number): PaperPoint => {
    const [x, y] = surface.toSheet(z, angle);
    return [frame.x + x * frame.scale, frame.y - y * frame.scale];
  };
  const taken: LabelBox[] = [];
  /** Draws a text beside a point, in the direction `toward`; draws nothing and gives false where another text is. */
  const label = (
    text: string,
    from: PaperPoint,
    toward: PaperPoint,
    clear: number,
    fill: string = INK,
  ): boolean => {
    const width = textWidth(text, SMALL_MM);
    const height = SMALL_MM * CAPITAL;
    const out = clear + (Math.abs(toward[0]) * width + Math.abs(toward[1]) * height) / 2;
    const [x, y] = [from[0] + toward[0] * out, from[1] + toward[1] * out];
    const box = {
      left: x - width / 2,
      right: x + width / 2,
      top: y - height * 0.7,
      bottom: y + height * 0.7,
    };
    const hit = (b: LabelBox): boolean =>
      box.left < b.right + 0.5 && b.left < box.right + 0.5 && box.top < b.bottom && b.top < box.bottom;
    if (taken.some(hit)) return false;
    taken.push(box);
    drawText(group, text, x, y + height / 2, { size: SMALL_MM, fill, anchor: 'middle', family: SANS });
    return true;
  };
  let ticks = '';
  const tick = ([x, y]: PaperPoint, [dx, dy]: PaperPoint, length: number): void => {
    ticks += `M${pair(x, y)}L${pair(x + dx * length, y + dy * length)}`;
  };

  // Along the side: at both ends of the surface first, then wherever there is room.
  const { z0, z1 } = surface;
  const side = outwardDirection(at(z0, -180), at(z0, -179.9));
  const inside: number[] = [];
  for (let z = Math.ceil(z0 / Z_STEP_MM) * Z_STEP_MM; z <= z1; z += Z_STEP_MM) inside.push(z);
  for (const z of [...new Set([z0, z1, ...inside])]) {
    const foot = at(z, -180);
    tick(foot, side, z % (2 * Z_STEP_MM) === 0 ? TICK.large : TICK.middle);
    label(formatNumber(z, 2), foot, side, BESIDE_MM);
  }

  // Along the lower edge: every 10, 30 and 90 degrees; numbers as close as they fit.
  const gap = Math.abs(at(z0, 0)[0] - at(z0, 15)[0]) / 15;
  const available = textWidth('330°', SMALL_MM) + 1;
  const step = [30, 90, 180].find((s) => gap * s >= available) ?? 360;
  const marks: { near: number; angle: number }[] = [];
  for (let near = Math.ceil((viewAngle - 180) / 10) * 10; near <= viewAngle + 180; near += 10)
    marks.push({ near: near - viewAngle, angle: wrapDeg(near) });
  const rank = (angle: number): number => (angle % 90 === 0 ? 0 : angle % 30 === 0 ? 1 : 2);
  marks.sort((a, b) => rank(a.angle) - rank(b.angle) || a.near - b.near);
  const hasRoom = [0, 30, 10].map((every) => every === 0 || gap * every >= CLOSEST_MM);
  for (const { near, angle } of marks) {
    if (!hasRoom[rank(angle)]) continue;
    const foot = at(z0, near);
    const down = outwardDirection(foot, at(z0 + 0.01, near));
    tick(foot, down, [TICK.large, TICK.middle, TICK.small][rank(angle)]!);
    if (angle % step !== 0) continue;
    label(`${angle}°`, foot, down, BESIDE_MM);
  }
  drawPath(group, ticks, { stroke: INK, width: 0.12 });

  const index = nearDeg(-viewAngle);
  for (const near of index === 180 ? [-180, 180] : [index]) {
    const [foot, head] = [at(z0, near), at(z1, near)];
    const up = outwardDirection(head, at(z1 - 0.01, near));
    const tip: PaperPoint = [head[0] + up[0] * 1.4, head[1] + up[1] * 1.4];
    drawPath(group, `M${pair(...foot)}L${pair(...tip)}`, {
      stroke: QUIET,
      width: 0.15,
      dashes: [2.4, 0.7, 0.4, 0.7],
    });
    label('index', tip, up, 0.7, QUIET);
  }
  // The unit is above the topmost number.
  const top = at(z1, -180);
  const past = outwardDirection(top, at(z1 - 0.01, -180));
  const half = (Math.abs(side[0]) * textWidth('z mm', SMALL_MM) + Math.abs(side[1]) * SMALL_MM) / 2;
  const reach = BESIDE_MM + half;
  label('z mm', [top[0] + side[0] * reach, top[1] + side[1] * reach], past, SMALL_MM * CAPITAL, QUIET);
}

/** A bar as long as `mm` millimetres of the surface, with its length and a note. */
export function drawBar(
  parent: Element,
  x: number,
  y: number,
  mm: number,
  scale: number,
  note: string,
): void {
  const group = addGroup(parent, 'scale');
  const end = x + mm * scale;
  const ends = `M${pair(x, y)}L${pair(end, y)}M${pair(x, y - 1)}L${pair(x, y + 1)}M${pair(end, y - 1)}L${pair(end, y + 1)}`;
  drawPath(group, ends, { stroke: INK, width: 0.2, cap: 'butt' });
  let halves = '';
  for (let k = 1; k < mm; k++) {
    const tick = k % 5 === 0 ? 0.8 : 0.5;
    halves += `M${pair(x + k * scale, y)}L${pair(x + k * scale, y - tick)}`;
  }
  drawPath(group, halves, { stroke: INK, width: 0.1 });
  drawText(group, `${formatNumber(mm)} mm`, end + 1.5, y + 0.9, { size: SMALL_MM, fill: INK });
  if (note) {
    const start = end + 1.5 + textWidth(`${formatNumber(mm)} mm`, SMALL_MM) + 2.5;
    drawText(group, note, start, y + 0.9, { size: SMALL_MM, fill: QUIET });
  }
}

type PaperPoint = readonly [x: number, y: number];

const pair = (x: number, y: number): string => `${formatCoordinate(x)} ${formatCoordinate(y)}`;

/** The unit direction from `inner` out past `edge`. */
function outwardDirection(edge: PaperPoint, inner: PaperPoint): PaperPoint {
  const [dx, dy] = [edge[0] - inner[0], edge[1] - inner[1]];
  const length = Math.hypot(dx, dy);
  return [dx / length, dy / length];
}
