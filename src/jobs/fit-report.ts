import type { Limit } from '../layout/fit.js';
import { problemLine } from '../problem.js';
import { wrapDeg } from '../units.js';
import { type EditionFit, type MarkFit, misfit } from './fit.js';

/** A fit as plain values, for JSON: lengths mm, angles degrees. */
export function fitAnswer(found: EditionFit) {
  return { ok: found.ok, edition: found.edition, marks: found.marks.map(markAnswer) };
}

function markAnswer(one: MarkFit) {
  const { result } = one;
  const head = {
    design: one.designId,
    mark: one.mark.id,
    part: one.partId,
    surface: one.surface.id,
    labels: one.lines.size,
    cutWidth: one.cutWidth,
  };
  if (!result.ok)
    return { ...head, ok: false, smallest: result.smallest, nearest: result.nearest, problem: misfit(one) };
  const place = { z: result.at.z, angle: wrapDeg(result.at.angle) };
  return {
    ...head,
    ok: true,
    size: result.size,
    place,
    limit: result.atLargest ? { ...result.limit, by: 'size range' } : { ...result.limit, by: 'surface' },
    larger: { size: result.larger.size, fits: result.larger.limit.room >= 0, limit: result.larger.limit },
  };
}

/** A fit in words, a mark at a time. */
export const fitLines = (found: EditionFit): string[] => found.marks.flatMap(markLines);

function markLines(one: MarkFit): string[] {
  const { result } = one;
  const labels = one.lines.size === 1 ? '1 label' : `${one.lines.size} labels`;
  const head = `${one.designId} / ${one.mark.id} on ${one.partId} ${one.surface.id}, ${labels}`;
  if (!result.ok) return [`${head}: does not fit`, `  ${problemLine(misfit(one))}`];
  const { at, larger } = result;
  const place = `z ${at.z.toFixed(2)}, angle ${wrapDeg(at.angle).toFixed(2)}`;
  const wide = larger.size.toFixed(3);
  const proof = result.atLargest
    ? `the size range stops here; least room is ${told(result.limit)}`
    : `limited by ${told(result.limit)}; at ${wide} mm (0.5 % larger) ${told(larger.limit)}`;
  return [`${head}: ${result.size} mm high at ${place}`, `  ${proof}`];
}

function told({ room, label, glyph, obstacle }: Limit): string {
  const where = glyph && glyph !== label ? `${label} ("${glyph}")` : label;
  const by = `${Math.abs(room).toFixed(3)} mm`;
  return room >= 0 ? `${where}, ${by} clear of ${obstacle}` : `${where} fails by ${by} at ${obstacle}`;
}
