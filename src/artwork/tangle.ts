import type { Polygons } from '../surface/polygons.js';

/** More crossings than any drawing has: beyond them an area would take minutes to figure. */
const MOST_CROSSINGS = 30_000;
/** And more pairs of sides than can be looked at. */
const MOST_PAIRS = 20_000_000;

/** Whether rings cross themselves and one another more often than any drawing does. */
export function tangled(rings: Polygons): boolean {
  const sides = sidesOf(rings);
  let crossings = 0;
  let pairs = 0;
  for (let i = 0; i < sides.length; i++) {
    const a = sides[i]!;
    for (let j = i + 1; j < sides.length && sides[j]!.left < a.right; j++) {
      if (++pairs > MOST_PAIRS) return true;
      if (cross(a, sides[j]!) && ++crossings > MOST_CROSSINGS) return true;
    }
  }
  return false;
}

interface Side {
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
  readonly left: number;
  readonly right: number;
}

/** The sides of rings, by their left ends. */
function sidesOf(rings: Polygons): Side[] {
  const sides: Side[] = [];
  for (const ring of rings) {
    for (let i = 0, j = ring.length - 2; i < ring.length; j = i, i += 2) {
      const [x0, y0, x1, y1] = [ring[j]!, ring[j + 1]!, ring[i]!, ring[i + 1]!];
      sides.push({ x0, y0, x1, y1, left: Math.min(x0, x1), right: Math.max(x0, x1) });
    }
  }
  return sides.sort((a, b) => a.left - b.left);
}

const cross = (a: Side, b: Side): boolean =>
  beside(a, b.x0, b.y0) * beside(a, b.x1, b.y1) < 0 && beside(b, a.x0, a.y0) * beside(b, a.x1, a.y1) < 0;

const beside = ({ x0, y0, x1, y1 }: Side, x: number, y: number): number =>
  Math.sign((x1 - x0) * (y - y0) - (x - x0) * (y1 - y0));
