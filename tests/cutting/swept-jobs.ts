import type { SweptMove, SweptTool } from '../../src/cutting/swept-cut.js';
import { cone } from '../../src/surface/cone.js';
import { cylinder } from '../../src/surface/cylinder.js';
import type { Frustum, Solid } from './solid-sweep.js';

/** A random part, cutter and few moves on it. */
export interface SweptJob {
  readonly tool: SweptTool;
  readonly part: Frustum;
  readonly solid: Solid;
  readonly moves: readonly SweptMove[];
  readonly what: string;
}

const SHARED = { kind: 'cutter', version: 1, name: 'random', feed: 100, plunge: 50, depth: 10 } as const;

/** The same job for the same number, whatever was made before it. */
export function sweptJob(seed: number): SweptJob {
  const dice = random(seed);
  const between = (low: number, high: number) => low + dice() * (high - low);
  const shape = (['cone', 'ball', 'flat', 'drag'] as const)[seed % 4]!;
  const onCone = seed % 3 !== 0;
  const setup = dice() < 0.5 ? 'level' : 'tilted';
  const r0 = between(3, 9);
  const [z0, z1] = [0, between(8, 30)];
  // Up to 22 degrees, widening or narrowing; never to a point.
  const taper = onCone ? between(1, 22) * (dice() < 0.5 ? -1 : 1) : 0;
  const r1 = Math.max(1.5, r0 + Math.tan((taper * Math.PI) / 180) * (z1 - z0));
  const part = { z0, z1, r0, r1: onCone ? r1 : r0 };
  const surface = onCone ? cone('random', z0, z1, r0, r1) : cylinder('random', z0, z1, r0);
  const size = between(0.1, 1.6);
  const solid: Solid =
    shape === 'cone'
      ? { shape, tip: dice() < 0.3 ? 0 : between(0.02, 0.2), angle: between(30, 100) }
      : shape === 'drag'
        ? { shape, width: between(0.05, 0.3) }
        : { shape, diameter: size };
  const cutter = (
    shape === 'drag' ? { ...SHARED, shape, width: solid.width! } : { ...SHARED, ...solid, speed: 9000 }
  ) as SweptTool['cutter'];
  const deep = () => between(0.02, 0.25);
  const step = () => between(0.1, 0.8) * (dice() < 0.5 ? -1 : 1);
  let at = { z: between(z0 + 3, z1 - 3), angle: between(0, 360), depth: deep() };
  const moves: SweptMove[] = [];
  const changes = dice() < 0.4;
  for (let k = 0; k < 3; k++) {
    const kind = dice();
    const to = {
      z: kind < 0.25 ? at.z : at.z + step(),
      angle: kind > 0.75 ? at.angle : at.angle + (step() / surface.radius(at.z)) * (180 / Math.PI),
      depth: changes ? deep() : at.depth,
    };
    moves.push({ from: at, to });
    at = to;
  }
  const what = `${seed}: ${JSON.stringify(solid)}, ${setup}, taper ${taper.toFixed(1)}, radius ${r0.toFixed(2)}`;
  return { tool: { surface, setup, cutter }, part, solid, moves, what };
}

/** Numbers from 0 to 1 that look random: a linear congruential generator (Numerical Recipes, from memory). */
function random(seed: number): () => number {
  let state = (seed * 2654435761 + 12345) >>> 0;
  for (let k = 0; k < 5; k++) state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}
