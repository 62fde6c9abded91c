import { CutWork } from '../cutting/cut-work.js';
import { cutMark, cutProblems, type MarkCut } from '../cutting/mark-cut.js';
import { MinFeatureWork } from '../cutting/min-feature-work.js';
import { type OperationMaker, operationMaker } from '../cutting/operation.js';
import { type Numbered, plannedNumbers } from '../edition/labels.js';
import { fitMarks } from '../layout/fit-marks.js';
import { checkMarks, type MarkSources, marksToFit } from '../layout/mark-to-fit.js';
import type { Setup } from '../layout/true-cut.js';
import { Refusal } from '../problem.js';
import { editionOf } from './open-documents.js';
import { noProgress, type Progress, progressOf } from './progress.js';
import type { Workshop } from './workshop.js';

export interface EditionFit {
  readonly edition: string;
  /** In the order of the edition's designs. */
  readonly marks: readonly MarkCut[];
  readonly ok: boolean;
}

/**
 * Throws a Refusal when the marks of an edition cannot be fitted, whatever their sizes and places: exit 2 when a font lacks a
 * character that is needed, exit 1 for too many letters.
 */
export const checkEditionMarks = (workshop: Workshop, editionId: string, labels: readonly Numbered[]): void =>
  checkMarks(markSources(workshop, editionId, labels));

function markSources(workshop: Workshop, editionId: string, labels: readonly Numbered[]): MarkSources {
  const { documents, surfaces, fonts, motifs, dedications } = workshop;
  const designs = documents.editions.get(editionId)!.designs.map((id) => {
    const design = documents.designs.get(id)!;
    return { id, design, part: documents.parts.get(design.part)!, surfaces: surfaces.get(design.part)! };
  });
  const words = dedications.get(editionId);
  return {
    designs,
    cutters: documents.cutters,
    fonts,
    motifs,
    labels,
    setups: setupsOf(workshop),
    ...(words ? { dedications: words } : {}),
  };
}

/**
 * Fits every mark of an edition: one size and one place for all its labels, each mark clear of the others on its
 * surface. Throws a Refusal (exit 2) when a font lacks a character that a label needs.
 */
export function fitEdition(
  workshop: Workshop,
  editionId: string,
  labels: readonly Numbered[] = plannedNumbers(editionOf(workshop, editionId)),
  progress: Progress = noProgress,
): EditionFit {
  const { cutters, materials } = workshop.documents;
  const setups = setupsOf(workshop);
  const fits = fitMarks(marksToFit(markSources(workshop, editionId, labels)), progressOf(progress, 'marks'));
  const work = { strokes: new MinFeatureWork(), lines: new CutWork(labels.length) };
  const marks = fits.map((fit) => {
    const { mark, part } = fit.of;
    const cut = { cutter: cutters.get(mark.cutter)!, material: materials.get(part.material)!, setups };
    return cutMark(fit, cut, work);
  });
  return { edition: editionId, marks, ok: marks.every((mark) => cutProblems(mark).length === 0) };
}

/** The set-ups of the workshop's stations; where it has none yet, square to the surface. */
function setupsOf({ documents }: Workshop): Setup[] {
  const all = new Set([...documents.stations.values()].map(({ setup }) => setup));
  return all.size > 0 ? [...all].sort() : ['tilted'];
}

/** Cuts what was fitted, for the labels that are asked for. Throws a Refusal (exit 1) when a mark does not fit. */
export function fittedOperations({ marks }: EditionFit): OperationMaker {
  const problems = marks.flatMap(cutProblems);
  if (problems.length > 0) throw new Refusal(problems);
  return operationMaker(marks);
}
