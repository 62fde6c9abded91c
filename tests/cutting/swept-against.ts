import { sweptCut } from '../../src/cutting/swept-cut.js';
import { boundsOfAll } from '../../src/geometry/bounds.js';
import { cellsOver, middleOf } from '../../src/geometry/cell-grid.js';
import { SolidSweep } from './solid-sweep.js';
import type { SweptJob } from './swept-jobs.js';

export interface SweptDifference {
  /** Cells of which the one says that they are cut, the other not, farther than EDGE_MM from where it changes. */
  readonly edges: number;
  /** The greatest difference in depth, mm, where both are cut, away from the edge. */
  readonly depth: number;
  readonly looked: number;
  readonly cut: number;
}

const EDGE_MM = 0.005;
const INSTANTS = 1500;
const CELL_MM = 0.01;

/** Holds the swept cut of a job against the solid sweep at cells spread over its window. */
export function sweptAgainst(job: SweptJob, looks: number): SweptDifference {
  const { tool, moves } = job;
  const { surface } = tool;
  const turn = moves[0]!.from.angle;
  const lines = moves.map(({ from, to }) =>
    Float64Array.from([
      ...surface.toSheet(from.z, from.angle - turn),
      ...surface.toSheet(to.z, to.angle - turn),
    ]),
  );
  const [left, bottom, right, top] = boundsOfAll(lines);
  const room = 1.2;
  const bounds = [left - room, bottom - room, right + room, top + room] as const;
  const cells = cellsOver(bounds, CELL_MM);
  const field = sweptCut(tool, moves, cells, turn);
  const solid = new SolidSweep(job.part, tool.setup === 'tilted', job.solid, moves, INSTANTS);
  const count = cells.columns * cells.rows;
  // Every cell that may be near the edge or cut weighs; those far from all are few times looked at.
  const near = Array.from({ length: count }, (_, k) => k).filter((k) => field.inside[k]! > -0.03);
  const stride = Math.max(1, Math.floor(near.length / looks));
  let [edges, depth, looked, cut] = [0, 0, 0, 0];
  const look = (k: number) => {
    looked++;
    const [x, y] = middleOf(cells, k);
    const at = (dx: number, dy: number) => {
      const { z, angle } = surface.toSurfaceNear(x + dx, y + dy);
      return { z, angle: angle + turn };
    };
    const { z, angle } = at(0, 0);
    const isCut = solid.cuts(z, angle, 0);
    if (isCut !== field.inside[k]! > 0) {
      const changes = [0, 1, 2, 3, 4, 5, 6, 7].some((n) => {
        const beside = at(EDGE_MM * Math.cos((n * Math.PI) / 4), EDGE_MM * Math.sin((n * Math.PI) / 4));
        return solid.cuts(beside.z, beside.angle, 0) !== isCut;
      });
      if (!changes) edges++;
      return;
    }
    if (!isCut) return;
    cut++;
    // At the wall of a straight side the depth falls from all to nothing: an edge, not a depth.
    const around = [k - 1, k + 1, k - cells.columns, k + cells.columns].map((n) => field.depth[n] ?? 0);
    if (job.solid.shape !== 'cone' && around.some((d) => Math.abs(d - field.depth[k]!) > 0.005)) return;
    depth = Math.max(depth, Math.abs(solid.depth(z, angle, 1) - field.depth[k]!));
  };
  for (let i = 0; i < near.length; i += stride) look(near[i]!);
  const far = Math.max(1, Math.floor(count / 20));
  for (let k = 0; k < count; k += far) if (field.inside[k]! <= -0.03) look(k);
  return { edges, depth, looked, cut };
}
