import type { ReadCut } from '../station/readback.js';
import type { Surface } from '../surface/surface.js';
import { figure } from './figures.js';
import { INK, PAPER } from './look.js';

const MARGIN_MM = 1;

/**
 * What a program cuts, drawn from its own moves as read back: no layout has a part in it. Each stretch is as wide as
 * `widthAt` says its depth leaves it, mm. The sheet is turned so that the middle of the cuts is on its y axis.
 */
export function cutPicture(
  surface: Surface,
  cuts: readonly ReadCut[],
  widthAt: (depth: number) => number,
): string {
  const steps = cuts.flatMap((cut) => cut.steps);
  const angles = steps.flatMap(({ from, to }) => [from.angle, to.angle]);
  const view = angles.length > 0 ? (least(angles) + most(angles)) / 2 : 0;
  const lines = steps.map(({ from, to }) => ({
    from: surface.toSheet(from.z, from.angle - view),
    to: surface.toSheet(to.z, to.angle - view),
    width: widthAt(Math.max(from.depth, to.depth)),
  }));
  const xs = lines.flatMap((l) => [l.from[0], l.to[0]]);
  const ys = lines.flatMap((l) => [l.from[1], l.to[1]]);
  const room = MARGIN_MM + most(lines.map((l) => l.width)) / 2;
  const [x0, y1] = [least(xs) - room, most(ys) + room];
  const [width, height] = [most(xs) + room - x0, y1 - least(ys) + room];
  const at = ([x, y]: readonly [number, number]) => `${figure(x - x0)} ${figure(y1 - y)}`;
  const drawn = lines.map(
    (l) => `<path d="M${at(l.from)}L${at(l.to)}" stroke-width="${figure(Math.max(l.width, 0.001))}"/>`,
  );
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${figure(width)}mm" height="${figure(height)}mm"`,
    ` viewBox="0 0 ${figure(width)} ${figure(height)}">`,
    `<rect width="${figure(width)}" height="${figure(height)}" fill="${PAPER}"/>`,
    `<g fill="none" stroke="${INK}" stroke-linecap="round">${drawn.join('')}</g></svg>\n`,
  ].join('');
}

// Not spread into Math.min: a program has more moves than a call takes arguments.
const least = (values: readonly number[]): number => values.reduce((a, b) => Math.min(a, b), values[0] ?? 0);
const most = (values: readonly number[]): number => values.reduce((a, b) => Math.max(a, b), values[0] ?? 0);
