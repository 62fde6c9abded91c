import type { CutBlock } from '../cutting/cuts.js';
import type { Operation } from '../cutting/operation.js';
import type { Numbered } from '../edition/labels.js';
import { type Problem, Refusal } from '../problem.js';
import { greatestFeedOf } from '../station/block.js';
import { type MachineSetup, setupFor } from '../station/machine-setup.js';
import type { ProgramHead } from '../station/program.js';
import { type ProgramMaker, programMaker } from '../station/program-maker.js';
import { findDocument } from './open-documents.js';
import { designDigest, formatSources, programSources } from './program-sources.js';
import type { Workshop } from './workshop.js';

/** An operation with the station set up for it. */
export interface OperationPrograms {
  readonly operation: Operation;
  readonly setup: MachineSetup;
  /** What its programs say they are; each adds its label. */
  readonly head: Omit<ProgramHead, 'label'>;
  readonly program: ProgramMaker;
}

/** Sets a station up for an operation of an edition, of which `planned` are all numbers. Throws a Refusal (exit 1) when the station cannot run it. */
export function operationPrograms(
  workshop: Workshop,
  editionId: string,
  stationId: string,
  operation: Operation,
  planned: readonly Numbered[],
): OperationPrograms {
  const { documents } = workshop;
  const station = findDocument(documents.stations, 'station', stationId);
  const cutter = documents.cutters.get(operation.cutter)!;
  const { surface, proud, part } = operation.marks[0]!.fitted.of;
  const setup = setupFor(
    station,
    surface,
    cutter,
    documents.materials.get(part.material)!,
    proud[station.setup],
  );
  if (Array.isArray(setup)) throw new Refusal(setup);
  const head = {
    edition: editionId,
    digest: designDigest(workshop, operation),
    part: operation.part,
    surface: operation.surfaceId,
    cutter: operation.cutter,
    setup: `${station.setup}, station ${stationId}`,
    documents: formatSources(programSources(workshop, stationId, operation, planned)),
  };
  const program = programMaker(setup, head);
  return { operation, setup, head, program: (...of) => advisingFeed(setup, operation, () => program(...of)) };
}

/**
 * Does the work. Where a block of one piece asks too much of an axis, the feed that the Refusal advises is one at which all
 * pieces can be cut: that block is the first that was looked at, and others may ask more.
 */
export function advisingFeed<T>(setup: MachineSetup, operation: Operation, work: () => T): T {
  try {
    return work();
  } catch (error) {
    if (!(error instanceof Refusal) || !error.problems.some(isTooSlow)) throw error;
    const largest = greatestFeedOf(setup, kindsOfBlocks(operation));
    const advised = error.problems.map((p) =>
      isTooSlow(p) ? { ...p, values: { ...p.values, largest } } : p,
    );
    throw new Refusal(advised);
  }
}

const isTooSlow = ({ code }: Problem): boolean => code === 'station.axis-too-slow';

/** One block of those that share their lines, over all labels: the others differ from it only in where they stand. */
function kindsOfBlocks({ marks }: Operation): Iterable<CutBlock> {
  const kinds = new Map<CutBlock['lines'], CutBlock>();
  for (const { blocks } of marks)
    for (const list of blocks.values()) for (const block of list) kinds.set(block.lines, block);
  return kinds.values();
}
