import { createRequire } from 'node:module';
import { grow } from '../../dist/geometry/polygons.js';
import { inRounds, spread } from './rounds.mjs';

/**
 * Growing keep-outs, as the project does it and, where Node finds it, by clipper2-wasm. That is no dependency: install
 * it in a folder elsewhere, and name the `node_modules` in it by NODE_PATH.
 */
export const title =
  '1,000 keep-out outlines of 60 to 259 points grown by 0.3 to 0.8 mm with round corners, ms';

const OUTLINES = Array.from({ length: 1000 }, (_, k) => {
  const n = 60 + ((k * 37) % 200);
  const ring = new Float64Array(2 * n);
  for (let i = 0; i < n; i++) {
    const a = (2 * Math.PI * i) / n;
    const r = 3 + 0.6 * Math.sin(5 * a + k);
    ring.set([1.8 * r * Math.cos(a), r * Math.sin(a)], 2 * i);
  }
  return { ring, by: 0.3 + (k % 6) / 10 };
});

/** The settings of src/surface/polygons.ts. */
const PRECISION = 6;
const SAG = 0.0002;

export async function measure({ rounds }) {
  const ways = {};
  const points = {};
  const count = (name, growOne) => () => {
    points[name] = 0;
    for (const { ring, by } of OUTLINES) for (const out of growOne(ring, by)) points[name] += out.length / 2;
  };
  const { Clipper, JoinType, EndType } = await import('clipper2-ts');
  ways['clipper2-ts, offset alone'] = count('clipper2-ts, offset alone', (ring, by) => {
    const path = [];
    for (let i = 0; i < ring.length; i += 2) path.push({ x: ring[i], y: ring[i + 1] });
    const grown = Clipper.inflatePathsD([path], by, JoinType.Round, EndType.Polygon, 2, PRECISION, SAG);
    return grown.map((out) => Float64Array.from(out.flatMap(({ x, y }) => [x, y])));
  });
  const wasm = await loaded('clipper2-wasm');
  if (wasm)
    ways['clipper2-wasm, offset alone'] = count('clipper2-wasm, offset alone', (ring, by) =>
      grownByWasm(wasm, ring, by),
    );
  ways['burin (a union, then the offset)'] = count('burin (a union, then the offset)', (ring, by) =>
    grow([ring], by),
  );
  const times = await inRounds(ways, rounds);
  return [
    Object.keys(ways).map((way) => ({ way, ...spread(times[way]), points: String(points[way]) })),
    ...(wasm ? [] : ['clipper2-wasm is not found and was left out.']),
  ];
}

async function loaded(name) {
  const require = createRequire(import.meta.url);
  try {
    return await require(name)();
  } catch (error) {
    if (error.code === 'MODULE_NOT_FOUND') return undefined;
    throw error;
  }
}

function grownByWasm(wasm, ring, by) {
  const paths = new wasm.PathsD();
  const path = wasm.MakePathD(ring);
  paths.push_back(path);
  const grown = wasm.InflatePathsD(paths, by, wasm.JoinType.Round, wasm.EndType.Polygon, 2, PRECISION, SAG);
  const out = Array.from({ length: grown.size() }, (_, k) => {
    const one = grown.get(k);
    const copy = new Float64Array(2 * one.size());
    // Three figures a point: x, y and a mark of the library's own.
    const view = one.view();
    const step = view.length / one.size();
    for (let i = 0; i < one.size(); i++) copy.set([view[step * i], view[step * i + 1]], 2 * i);
    one.delete();
    return copy;
  });
  for (const used of [grown, path, paths]) used.delete();
  return out;
}
