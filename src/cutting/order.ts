import { reversed } from '../units.js';
import type { CutBlock, CutLine } from './cuts.js';

/**
 * Lines in the order that shortens the air moves between them: from the first drawn, always the nearest end next,
 * an open line turned round where its far end is nearer. Few lines a glyph, so the simple way is near the best.
 */
export function orderLines(lines: readonly CutLine[]): CutLine[] {
  const left = [...lines];
  const ordered: CutLine[] = [];
  let at: readonly [number, number] | undefined;
  while (left.length > 0) {
    let pick = 0;
    let turnRound = false;
    let least = Number.POSITIVE_INFINITY;
    if (at) {
      for (const [i, line] of left.entries()) {
        const p = line.points;
        const toStart = Math.hypot(p[0]! - at[0], p[1]! - at[1]);
        const toEnd = Math.hypot(p[p.length - 2]! - at[0], p[p.length - 1]! - at[1]);
        const far = !line.closed && toEnd < toStart;
        const d = far ? toEnd : toStart;
        if (d < least) {
          least = d;
          pick = i;
          turnRound = far;
        }
      }
    }
    const [line] = left.splice(pick, 1);
    const next = turnRound ? turned(line!) : line!;
    ordered.push(next);
    const p = next.points;
    at = next.closed ? [p[0]!, p[1]!] : [p[p.length - 2]!, p[p.length - 1]!];
  }
  return ordered;
}

/** A line run the other way, its depths with it. */
const turned = ({ points, closed, depths }: CutLine): CutLine => ({
  points: reversed(points),
  closed,
  ...(depths ? { depths: depths.slice().reverse() } : {}),
});

/**
 * Marks in the order that turns and slides the part least: from the one nearest the index line and the datum end,
 * always the nearest next. Within a mark blocks stay in reading order, which for a line of text is the short way.
 */
export function orderMarks(marks: readonly (readonly CutBlock[])[]): CutBlock[] {
  const left = marks.filter((m) => m.length > 0);
  const ordered: CutBlock[] = [];
  let turn = 0;
  let y = 0;
  while (left.length > 0) {
    let pick = 0;
    let least = Number.POSITIVE_INFINITY;
    for (const [i, mark] of left.entries()) {
      const d = Math.hypot((mark[0]!.turn - turn) * DEG_AS_MM, (mark[0]!.lines[0]!.points[1] ?? 0) - y);
      if (d < least) {
        least = d;
        pick = i;
      }
    }
    const [mark] = left.splice(pick, 1);
    ordered.push(...mark!);
    const last = mark![mark!.length - 1]!;
    turn = last.turn;
    y = last.lines[0]!.points[1]!;
  }
  return ordered;
}

/** About how far a degree goes on a barrel, mm: only to weigh turning against sliding. */
const DEG_AS_MM = 0.1;
