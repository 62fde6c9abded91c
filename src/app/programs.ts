import type { Operation } from '../cutting/operation.js';
import { Refusal } from '../problem.js';
import { type MachineSetup, setupFor } from '../station/machine-setup.js';
import type { ProgramHead } from '../station/program.js';
import { type ProgramMaker, programMaker } from '../station/program-maker.js';
import { findDocument } from './open-documents.js';
import type { Workshop } from './workshop.js';

/** An operation with the station set up for it. */
export interface OperationPrograms {
  readonly operation: Operation;
  readonly setup: MachineSetup;
  /** What its programs say they are; each adds its label. */
  readonly head: Omit<ProgramHead, 'label'>;
  readonly program: ProgramMaker;
}

/** Sets a station up for an operation of an edition. Throws a Refusal (exit 1) when the station cannot run it. */
export function operationPrograms(
  { documents, digests }: Workshop,
  editionId: string,
  stationId: string,
  operation: Operation,
): OperationPrograms {
  const station = findDocument(documents.stations, 'station', stationId);
  const cutter = documents.cutters.get(operation.cutter)!;
  const { surface, proud, part, designId } = operation.marks[0]!.fitted.of;
  const setup = setupFor(station, surface, cutter, documents.materials.get(part.material)!, proud);
  if (Array.isArray(setup)) throw new Refusal(setup);
  const head = {
    edition: editionId,
    digest: digests.get(`design/${designId}`)!,
    part: operation.part,
    surface: operation.surfaceId,
    cutter: operation.cutter,
    setup: `${station.setup}, station ${stationId}`,
  };
  return { operation, setup, head, program: programMaker(setup, head) };
}
