import type { Station } from '../documents/schema/station.js';
import type { Problem } from '../problem.js';
import type { Surface } from '../surface/surface.js';
import { toRad } from '../units.js';
import type { FeedMove, Position, RapidMove, ReadProgram } from './reader.js';
import { faultList, type Report } from './reader-faults.js';

/** Where the cutter's tip stands against a surface: z mm, angle degrees (running on), depth mm along the normal. */
export interface Tip {
  readonly z: number;
  readonly angle: number;
  readonly depth: number;
}

/** One feed move that cuts. */
export interface ReadStep {
  /** Line of the program. */
  readonly line: number;
  readonly from: Tip;
  readonly to: Tip;
  /** Along the surface, or straight down where it stands, mm/min. */
  readonly feed: number;
  /** How fast it goes deeper on its way along, mm/min. */
  readonly dive: number;
  /** The same with all that rounding may add, and how fast Z goes, mm/min: what may have held the feed back. */
  readonly held: { readonly dive: number; readonly lift: number };
  readonly spindle: number;
}

/** What is cut between one plunge and the next retract. */
export interface ReadCut {
  readonly name: string;
  readonly steps: readonly ReadStep[];
}

export interface Readback {
  readonly cuts: readonly ReadCut[];
  readonly problems: readonly Problem[];
}

const MOST_PROBLEMS = 30;
const MOST_OF_KIND = 8;
/** A cut may pass a surface's edge by the path's own tolerance and rounding, mm; past FAR_MM it is not on it at all. */
const EDGE_MM = 0.003;
const FAR_MM = 1;
/** More than this in one straight cut is no line of a mark, degrees. */
const MOST_TURN_DEG = 3600;
/** Figures of F and rounded lengths. */
const RATE_SLACK = 1.002;

/**
 * Takes a program back to lines on a surface, by the station's own frame turned round, and names every move that is
 * not safe or not possible: rapids near the work, feeds outside a cut, travel past limits, axes too fast. `proud`: how far
 * the tallest clip or band stands proud of the surface, mm; `spread`: how many degrees apart the blocks lie that are to
 * be cut, the index line among them: a helix runs on through many turns.
 */
export function readback(
  program: ReadProgram,
  surface: Surface,
  station: Station,
  proud = 0,
  spread = 0,
): Readback {
  const { problems, report } = faultList(MOST_PROBLEMS, MOST_OF_KIND);
  const plain = frameOf(surface, station, proud);
  const frame = { ...plain, tip: tipsOf(plain) };
  const cuts: { name: string; steps: ReadStep[] }[] = [];
  let open: ReadStep[] | undefined;
  const descents = new Descents(frame, indexA(station), spread, report);
  for (const move of program.moves) {
    checkTravel(station, move.line, move.to, report);
    if (move.kind === 'rapid') {
      checkRapid(frame, station, move, report);
      descents.rapid(move);
      open = undefined;
      continue;
    }
    const step = readStep(frame, surface, station, move, report);
    if (!step) continue;
    descents.cut(move.to.a);
    if (!open) {
      open = [];
      cuts.push({ name: move.cut, steps: open });
    }
    open.push(step);
  }
  descents.end();
  const last = program.moves.at(-1);
  if (last && (last.to.z ?? Number.NEGATIVE_INFINITY) < frame.clear - frame.grain) {
    report(last.line, 'station.readback-ends-low', {});
  }
  return { cuts, problems };
}

interface Frame {
  tip(at: Position): Tip;
  /** Height of the cutter over the surface at X, mm of Z. */
  over(x: number, z: number): number;
  /** Z of safe height. */
  readonly clear: number;
  /** Two of the smallest step of the program's digits. */
  readonly grain: number;
}

/** Tips of positions, each made once though a move begins where the one before ends. */
function tipsOf(frame: Frame): (at: Position) => Tip {
  let last: Position | undefined;
  let tip: Tip | undefined;
  return (at) => {
    if (at === last) return tip!;
    last = at;
    tip = frame.tip(at);
    return tip;
  };
}

function frameOf(surface: Surface, station: Station, proud: number): Frame {
  const { x, a, z } = station.axes;
  const lean = toRad(surface.taper);
  const tilted = station.setup === 'tilted';
  const placeZ = (at: number): number => {
    const along = (at - x.offset) / x.sign;
    return tilted ? surface.z0 + along * Math.cos(lean) : along;
  };
  const top = (at: number): number => {
    if (tilted) return z.offset;
    const r = surface.radius(at);
    return z.zero === 'axis' ? z.offset + r : z.offset + (r - surface.radius(surface.z0));
  };
  return {
    tip: (at) => {
      const place = placeZ(at.x);
      const below = top(place) - at.z;
      return {
        z: place,
        angle: (at.a - a.offset) / a.sign,
        depth: tilted ? below : below * Math.cos(lean),
      };
    },
    over: (at, height) => height - top(placeZ(at)),
    clear: Math.max(top(surface.z0), top(surface.z1)) + proud + station.safe,
    grain: 2 * 10 ** -station.decimals,
  };
}

function checkTravel(station: Station, line: number, to: Partial<Position>, report: Report): void {
  const { x, a, z } = station.axes;
  checkAxisTravel('X', x, line, to.x, report);
  checkAxisTravel('A', a, line, to.a, report);
  checkAxisTravel('Z', z, line, to.z, report);
}

function checkAxisTravel(
  axis: string,
  { min, max }: { readonly min?: number | undefined; readonly max?: number | undefined },
  line: number,
  at: number | undefined,
  report: Report,
): void {
  if (at === undefined) return;
  if ((min !== undefined && at < min - 1e-9) || (max !== undefined && at > max + 1e-9)) {
    report(line, 'station.readback-travel', {
      axis,
      to: String(at),
      min: String(min ?? 'none'),
      max: String(max ?? 'none'),
    });
  }
}

/**
 * Holds each way down against what follows it. Low over the part a cutter has no business but to cut where it came down:
 * clips and bands stand proud, and read-back knows nothing of their place. Nor does a part turn for nothing.
 */
class Descents {
  readonly #frame: Frame;
  readonly #report: Report;
  readonly #mostTurn: number;
  /** The line of a way down after which nothing was cut so far. */
  #down: number | undefined;
  /** A where the last rapid ended, and where it is now. */
  #from: number;
  #at: number;

  /** `a`: where A stands before the program, at the index line; `spread`: how many degrees apart what is cut lies. */
  constructor(frame: Frame, a: number, spread: number, report: Report) {
    this.#mostTurn = 360 * MOST_TURNS_MORE + Math.max(0, spread - 360);
    this.#frame = frame;
    this.#from = a;
    this.#at = a;
    this.#report = report;
  }

  rapid({ line, from, to }: RapidMove): void {
    this.end();
    const { clear, grain } = this.#frame;
    const isDown = to.z !== undefined && (from.z === undefined || to.z < from.z);
    if (isDown && to.z! < clear - grain) this.#down = line;
    if (to.a === undefined) return;
    const turned = Math.abs(to.a - this.#at);
    if (turned > this.#mostTurn + Math.abs(this.#at - this.#from))
      this.#report(line, 'station.readback-turns-for-nothing', { degrees: String(turned) });
    this.#from = to.a;
    this.#at = to.a;
  }

  /** A cut ends at this A. */
  cut(a: number): void {
    this.#down = undefined;
    this.#at = a;
  }

  end(): void {
    if (this.#down !== undefined) this.#report(this.#down, 'station.readback-down-for-nothing', {});
    this.#down = undefined;
  }
}

/** Where A stands at the index line, or as near as its limits let it. */
const indexA = ({ axes: { a } }: Station): number =>
  Math.min(a.max ?? Number.POSITIVE_INFINITY, Math.max(a.min ?? Number.NEGATIVE_INFINITY, a.offset));

/** More whole turns than it takes to undo a cut and to come to the next, of those that lie within a turn. */
const MOST_TURNS_MORE = 2;

function checkRapid(frame: Frame, station: Station, { line, from, to }: RapidMove, report: Report): void {
  const low = (z: number | undefined) => z !== undefined && z < frame.clear - frame.grain;
  const along = from.x !== to.x || from.a !== to.a;
  if (along) {
    if (low(from.z) || low(to.z)) report(line, 'station.readback-rapid-along', {});
    return;
  }
  if (to.z === undefined || (from.z !== undefined && to.z >= from.z)) return;
  if (to.x === undefined) {
    if (low(to.z)) report(line, 'station.readback-rapid-blind', {});
    return;
  }
  const over = frame.over(to.x, to.z);
  if (over < Math.min(station.approach, station.safe) - frame.grain) {
    report(line, 'station.readback-rapid-down', { over: over.toFixed(4) });
  }
}

function readStep(
  frame: Frame,
  surface: Surface,
  station: Station,
  move: FeedMove,
  report: Report,
): ReadStep | undefined {
  const { line } = move;
  const from = frame.tip(move.from);
  const to = frame.tip(move.to);
  const dx = move.to.x - move.from.x;
  const dz = move.to.z - move.from.z;
  const da = move.to.a - move.from.a;
  const along = dx !== 0 || da !== 0;
  const linear = Math.hypot(dx, dz);
  // NISTIR 6556 section 2.1.2.5: inverse time, or along XYZ as if A stood still, or A alone in degrees.
  const minutes = move.mode === 'inverse-time' ? 1 / move.f : (linear > 0 ? linear : Math.abs(da)) / move.f;
  const { axes } = station;
  const checkSpeed = (axis: string, gone: number, speed: number): void => {
    if (Math.abs(gone) / minutes > speed * RATE_SLACK)
      report(line, 'station.readback-axis-too-fast', { axis, speed: String(speed) });
  };
  checkSpeed('X', dx, axes.x.speed);
  checkSpeed('A', da, axes.a.speed);
  checkSpeed('Z', dz, axes.z.speed);
  if (along) {
    // A line may run out, or run on, at the surface itself.
    const wet = Math.min(from.depth, to.depth) >= -frame.grain;
    const dry = Math.max(from.depth, to.depth) < -frame.grain;
    if (dry) report(line, 'station.readback-feed-above', {});
    else if (!wet) report(line, 'station.readback-feed-in-or-out', {});
  }
  if (Math.max(from.depth, to.depth) < -frame.grain) return undefined;
  const over = Math.max(surface.z0 - Math.min(from.z, to.z), Math.max(from.z, to.z) - surface.z1);
  if (over > EDGE_MM)
    report(line, 'station.readback-past-edge', { over: over.toFixed(4), surface: surface.id });
  if (Math.abs(da) > MOST_TURN_DEG) report(line, 'station.readback-turn', { degrees: String(Math.abs(da)) });
  if (over > FAR_MM || Math.abs(da) > MOST_TURN_DEG) return undefined;
  const mid = (from.z + to.z) / 2;
  const length = along
    ? Math.hypot(
        surface.slant(to.z) - surface.slant(from.z),
        surface.radius(mid) * toRad(to.angle - from.angle),
        to.depth - from.depth,
      )
    : Math.abs(dz);
  const dive = along ? Math.max(0, to.depth - from.depth - frame.grain) / minutes : 0;
  const held = { dive: Math.max(0, to.depth - from.depth) / minutes, lift: Math.abs(dz) / minutes };
  return { line, from, to, feed: length / minutes, dive, held, spindle: move.spindle };
}
