import { lineThatTurns, stationLineFaults } from '../documents/check/station-words.js';
import type { Cutter } from '../documents/schema/cutter.js';
import type { Material } from '../documents/schema/material.js';
import type { Station } from '../documents/schema/station.js';
import type { Problem } from '../problem.js';
import type { Surface } from '../surface/surface.js';
import { FLATTEN_TOLERANCE_MM, PATH_TOLERANCE_MM, toRad } from '../units.js';
import { stationAxes } from './axes.js';
import { problem } from './messages.js';
import { formatNumber, formatRoundedDown, roundUp } from './program-numbers.js';

/** One surface on one station with one cutter. */
export interface MachineSetup {
  readonly station: Station;
  readonly surface: Surface;
  /** Along the surface, mm/min. */
  readonly feed: number;
  /** Straight down, mm/min. */
  readonly plunge: number;
  /** Of the spindle, 1/min; left out when the cutter does not turn. */
  readonly speed?: number;
  /** How far the tallest clip or band of the part stands proud of the surface, mm. */
  readonly proud?: number;
}

/** The set-up of a cutter in a material on a station, at the lesser of their feeds; or why it cannot be. */
export function setupFor(
  station: Station,
  surface: Surface,
  cutter: Cutter,
  material: Pick<Material, 'feed'>,
  proud = 0,
): MachineSetup | Problem[] {
  if (cutter.shape === 'beam') {
    return [problem('station.beam-not-supported', `cutter ${cutter.name}`, {})];
  }
  const feed = Math.min(cutter.feed, material.feed);
  const { plunge } = cutter;
  const setup: MachineSetup =
    cutter.shape === 'drag'
      ? { station, surface, feed, plunge, proud }
      : { station, surface, feed, plunge, speed: cutter.speed, proud };
  const problems = checkSetup(setup);
  return problems.length > 0 ? problems : setup;
}

/** Z at which the cutter clears the surface and all that stands on it, mm, as written: rounded up. */
export function safeHeight(setup: MachineSetup): number {
  const { station, surface, proud = 0 } = setup;
  return roundUp(stationAxes(station, surface).highest + proud + station.safe, station.decimals);
}

/** How far rounding X and A to the station's digits can move a point on the surface, mm. */
function roundingMm({ station, surface }: MachineSetup): number {
  const half = 0.5 * 10 ** -station.decimals;
  const along = station.setup === 'level' ? half / Math.cos(toRad(surface.taper)) : half;
  const radius = Math.max(surface.radius(surface.z0), surface.radius(surface.z1));
  return Math.hypot(along, toRad(half) * radius);
}

/** How far a straight move may stray from the straight sheet line, mm, once flattening and rounding are paid. */
export const strayMm = (setup: MachineSetup): number =>
  PATH_TOLERANCE_MM - FLATTEN_TOLERANCE_MM - roundingMm(setup);

/** Rounding Z may add this part to the length of a move: half of what read-back allows a feed to be over. */
const LENGTH_SLACK = 0.001;

/**
 * Moves along the surface shorter than this, mm, are merged. On a level cone both ends of a move have their Z rounded,
 * which adds up to one unit of the last digit, u, to a slope of length s: sqrt(s^2 + u^2) is within 0.1 % of s only
 * from s = 22 u on. Whatever the digits, a move shorter than the path's own tolerance says nothing.
 */
export const usefulStepMm = ({ station }: MachineSetup): number =>
  Math.max(PATH_TOLERANCE_MM, 10 ** -station.decimals / Math.sqrt((1 + LENGTH_SLACK) ** 2 - 1));

/** Below this a path would be cut to dust. */
const LEAST_STRAY_MM = 0.0002;

function checkOwnLines({ station, speed }: MachineSetup): Problem[] {
  const placeOf = (name: 'before' | 'after', line: number) => `station ${station.name}: ${name}[${line}]`;
  const found = stationLineFaults(station).map(({ place, line, word }) =>
    problem('station.word-not-provable', placeOf(place, line), { word }),
  );
  const turns = speed === undefined ? lineThatTurns(station.before) : undefined;
  if (turns !== undefined) {
    const values = { line: station.before[turns]! };
    found.push(problem('station.still-cutter-turned', placeOf('before', turns), values));
  }
  return found;
}

/** What is wrong with a set-up before any block is looked at. */
export function checkSetup(setup: MachineSetup): Problem[] {
  const { station, surface } = setup;
  const { x, a, z } = station.axes;
  const where = `station ${station.name}`;
  const found: Problem[] = [];

  for (const [name, value] of [
    ['feed', setup.feed],
    ['plunge feed', setup.plunge],
    ['spindle speed', setup.speed ?? 1],
  ] as const) {
    if (!(Number.isFinite(value) && value > 0)) {
      found.push(problem('station.rate-not-positive', where, { rate: name, value: String(value) }));
    }
  }
  if (station.setup === 'tilted' && z.zero === 'axis') {
    found.push(problem('station.tilted-from-axis', where, {}));
  }
  if (station.approach > station.safe) {
    const values = { approach: formatNumber(station.approach), safe: formatNumber(station.safe) };
    found.push(problem('station.approach-above-safe', where, values));
  }
  for (const [name, min, max] of [
    ['X', x.min, x.max],
    ['A', a.min ?? Number.NEGATIVE_INFINITY, a.max ?? Number.POSITIVE_INFINITY],
    ['Z', z.min, z.max],
  ] as const) {
    if (!(min < max))
      found.push(
        problem('station.limits-reversed', where, { axis: name, min: String(min), max: String(max) }),
      );
  }
  if (setup.plunge > z.speed) {
    found.push(
      problem('station.plunge-too-fast', where, {
        plunge: formatNumber(setup.plunge),
        speed: formatNumber(z.speed),
        largest: formatRoundedDown(z.speed),
      }),
    );
  }
  if (strayMm(setup) < LEAST_STRAY_MM) {
    const values = { decimals: station.decimals, tolerance: String(PATH_TOLERANCE_MM) };
    found.push(problem('station.decimals-too-few', where, values));
  }
  const safe = safeHeight(setup);
  if (safe > z.max) {
    found.push(
      problem('station.safe-height-past-max', where, {
        safe: formatNumber(safe),
        surface: surface.id,
        over: formatNumber(safe - z.max),
        limit: formatNumber(z.max),
      }),
    );
  }
  found.push(...checkOwnLines(setup));
  return found;
}
