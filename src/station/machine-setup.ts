import { unprovableWord } from '../documents/check/station-words.js';
import type { Cutter } from '../documents/schema/cutter.js';
import type { Material } from '../documents/schema/material.js';
import type { Station } from '../documents/schema/station.js';
import { type Problem, problem } from '../problem.js';
import type { Surface } from '../surface/surface.js';
import { FLATTEN_TOLERANCE_MM, PATH_TOLERANCE_MM, toRad } from '../units.js';
import { stationAxes } from './axes.js';
import { formatNumber, formatRoundedDown, roundUp } from './number-format.js';

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
    return [
      problem(
        `cutter ${cutter.name}`,
        'beam stations are not written yet',
        'Use a drag or a turning cutter.',
      ),
    ];
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

/** How far rounding X and A to the station's figures can move a point on the surface, mm. */
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
 * which adds up to one unit of the last figure, u, to a slope of length s: sqrt(s^2 + u^2) is within 0.1 % of s only
 * from s = 22 u on. Whatever the figures, a move shorter than the path's own tolerance says nothing.
 */
export const usefulStepMm = ({ station }: MachineSetup): number =>
  Math.max(PATH_TOLERANCE_MM, 10 ** -station.decimals / Math.sqrt((1 + LENGTH_SLACK) ** 2 - 1));

/** Below this a path would be cut to dust. */
const LEAST_STRAY_MM = 0.0002;

function checkOwnLines(station: Station): Problem[] {
  const found: Problem[] = [];
  for (const place of ['before', 'after'] as const) {
    station[place].forEach((line, k) => {
      const strange = unprovableWord(line);
      if (strange === undefined) return;
      const what = /^G64/.test(strange)
        ? 'G64 lets the control leave the path'
        : `the word ${strange} is not one that can be proved`;
      found.push(
        problem(
          `station ${station.name}: ${place}[${k}]`,
          what,
          'Take it out; docs/programs.md lists what may stand there.',
        ),
      );
    });
  }
  return found;
}

/** What is wrong with a set-up before any block is looked at. */
export function checkSetup(setup: MachineSetup): Problem[] {
  const { station, surface } = setup;
  const { x, a, z } = station.axes;
  const where = `station ${station.name}`;
  const found: Problem[] = [];
  const add = (what: string, cure: string) => found.push(problem(where, what, cure));

  for (const [name, value] of [
    ['feed', setup.feed],
    ['plunge feed', setup.plunge],
    ['spindle speed', setup.speed ?? 1],
  ] as const) {
    if (!(Number.isFinite(value) && value > 0)) {
      add(`the ${name} is ${value}`, 'Give a number above nought.');
    }
  }
  if (station.setup === 'tilted' && z.zero === 'axis') {
    add('a tilted set-up has no one height of the axis to call Z 0', 'Use zero: touch.');
  }
  if (station.approach > station.safe) {
    add(
      `approach ${formatNumber(station.approach)} mm is above safe ${formatNumber(station.safe)} mm`,
      'Raise safe.',
    );
  }
  for (const [name, min, max] of [
    ['X', x.min, x.max],
    ['A', a.min ?? Number.NEGATIVE_INFINITY, a.max ?? Number.POSITIVE_INFINITY],
    ['Z', z.min, z.max],
  ] as const) {
    if (!(min < max)) add(`${name} has min ${min} not below max ${max}`, 'Give min below max.');
  }
  if (setup.plunge > z.speed) {
    add(
      `the plunge feed ${formatNumber(setup.plunge)} mm/min is faster than Z, ${formatNumber(z.speed)} mm/min`,
      `Plunge at ${formatRoundedDown(z.speed)} mm/min or less.`,
    );
  }
  if (strayMm(setup) < LEAST_STRAY_MM) {
    add(
      `${station.decimals} figures after the point cannot hold the path to ${PATH_TOLERANCE_MM} mm here`,
      'Give decimals: 4 or more.',
    );
  }
  const safe = safeHeight(setup);
  if (safe > z.max) {
    add(
      `Z safe height ${formatNumber(safe)} on surface ${surface.id} is ${formatNumber(safe - z.max)} mm past max ${formatNumber(z.max)}`,
      'Lower safe, or set the part lower.',
    );
  }
  found.push(...checkOwnLines(station));
  return found;
}
