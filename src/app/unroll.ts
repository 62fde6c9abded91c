import { surfaceOf } from '../surface/part-surfaces.js';
import type { Environment } from './environment.js';
import { refuse } from './messages.js';
import { findDocument } from './open-documents.js';
import { openWorkshop } from './workshop.js';

export interface Unrolled {
  readonly columns: readonly [string, string];
  readonly rows: readonly (readonly [number, number])[];
  /** As CSV: a heading if the input had one, then a line a row, 12 significant digits. */
  readonly lines: readonly string[];
}

/** Millimetres or degrees; a hundred turns. Past it a double no longer holds the digits that are written. */
const FARTHEST = 36_000;

const NUMBER = /^[-+]?(\d+\.?\d*|\.\d+)([eE][-+]?\d+)?$/;

/**
 * Points of a surface to its sheet (z, angle to x, y) or back. Throws a Refusal (exit 2) naming the first line that
 * is not two numbers.
 */
export async function unroll(
  dir: string,
  environment: Environment,
  partId: string,
  surfaceId: string,
  direction: 'forward' | 'inverse',
  csv: string,
): Promise<Unrolled> {
  const workshop = await openWorkshop(dir, environment);
  const part = findDocument(workshop.documents.parts, 'part', partId);
  const surface = surfaceOf(part, surfaceId);
  if (!surface) {
    const known = part.surfaces.map((s) => s.id).join(', ');
    throw refuse('app.no-such-surface', `part ${partId}`, { surface: surfaceId.slice(0, 60), known });
  }
  const [from, to] = direction === 'forward' ? (['z,angle', 'x,y'] as const) : (['x,y', 'z,angle'] as const);
  const rows: [number, number][] = [];
  let heading = false;
  csv.split(/\r?\n/).forEach((line, i) => {
    const cells = line.split(',').map((c) => c.trim());
    if (line.trim() === '') return;
    if (i === 0 && cells.join(',').toLowerCase() === from) {
      heading = true;
      return;
    }
    const numbers = cells.map(Number);
    if (cells.length !== 2 || !cells.every((c) => NUMBER.test(c)) || !numbers.every(Number.isFinite))
      throw refuse('app.not-two-numbers', `stdin:${i + 1}`, { line: line.slice(0, 40), columns: from });
    const [a, b] = numbers as [number, number];
    const found = { line: line.slice(0, 40) };
    if (Math.max(Math.abs(a), Math.abs(b)) > FARTHEST)
      throw refuse('app.point-too-far', `stdin:${i + 1}`, found);
    if (direction === 'forward') {
      if (!(surface.radius(a) > 0)) throw refuse('app.point-past-apex', `stdin:${i + 1}`, found);
      rows.push([...surface.toSheet(a, b)]);
    } else {
      const at = surface.toSurface(a, b);
      rows.push([at.z, at.angle]);
    }
  });
  const lines = rows.map((row) => row.map(formatTwelveDigits).join(','));
  return { columns: to.split(',') as [string, string], rows, lines: heading ? [to, ...lines] : lines };
}

/** Twelve significant digits, plain where that is short. */
const formatTwelveDigits = (value: number): string => String(Number(value.toPrecision(12)) + 0);
