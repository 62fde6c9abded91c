import { basename, dirname, resolve } from 'node:path';
import { blocksOf, type Operation, type OperationMaker } from '../cutting/operation.js';
import { type Numbered, plannedNumbers } from '../edition/labels.js';
import { cutWidth } from '../layout/cut-width.js';
import { pieceFolder, programFile } from '../piece-files.js';
import { type Problem, Refusal } from '../problem.js';
import { fileCanvas } from '../sheets/file-canvas.js';
import { readbackPicture } from '../sheets/readback-picture.js';
import { proveText } from '../station/prove.js';
import { readback } from '../station/readback.js';
import { readProgram } from '../station/reader.js';
import { MOST_PROGRAM_BYTES } from '../station/reader-budget.js';
import type { ReadHead } from '../station/reader-head.js';
import { remarkWords } from '../station/remark.js';
import { fitEdition, fittedOperations } from './fit.js';
import { readInput } from './input-file.js';
import { problem } from './messages.js';
import { editionOf } from './open-documents.js';
import { isSameOperation, labelsByBlocks } from './other-label.js';
import {
  designDigest,
  type ProgramSources,
  programSources,
  type SOURCES,
  staleSources,
} from './program-sources.js';
import { type OperationPrograms, operationPrograms } from './programs.js';
import { type NumberReader, numberReader } from './read-numbers.js';
import type { Workshop } from './workshop.js';

export interface ReadFile {
  readonly file: string;
  readonly ok: boolean;
  readonly label?: string;
  /** What it is the program of, as its head says; there when the edition has that. */
  readonly of?: ProgramOf;
  /** The farthest any cut lies from its line, mm, and the greatest difference in depth, mm. */
  readonly worstMm?: number;
  readonly depthError?: number;
  /** The number as a person reads it from what is cut; without blanks. Left out where the program cuts none. */
  readonly reads?: string;
  readonly problems: readonly Problem[];
  /** Draws what the program cuts, from its moves alone, as SVG; there when it could be read. */
  readonly draw?: () => Promise<string>;
}

/** The text of a program, or why it cannot be read: the others are read all the same. */
export const readProgramFile = (file: string): Promise<string | readonly Problem[]> =>
  readInput(file, MOST_PROGRAM_BYTES).then(
    (bytes) => bytes.toString('utf8'),
    (error: unknown) => {
      if (error instanceof Refusal) return error.problems;
      throw error;
    },
  );

/** One surface of one piece of an edition, cut with one cutter on one set-up. */
export interface ProgramOf extends Numbered {
  readonly edition: string;
  readonly part: string;
  readonly surface: string;
  readonly cutter: string;
  readonly setup: string;
}

/** What the files of one edition are read by; made once. */
interface EditionReader {
  readonly planned: readonly Numbered[];
  readonly operationsFor: OperationMaker;
  /** The names that programs of the edition have. */
  readonly fileNames: ReadonlySet<string>;
  /** A station set up for an operation, the same for every label. */
  programsOf(station: string, operation: Operation): OperationPrograms;
  sourcesOf(station: string, operation: Operation): ProgramSources;
}

function editionReader(workshop: Workshop, id: string): EditionReader {
  const planned = plannedNumbers(editionOf(workshop, id));
  const operationsFor = fittedOperations(fitEdition(workshop, id, planned));
  return {
    planned,
    operationsFor,
    fileNames: new Set(operationsFor([]).map((o) => programFile(o.part, o.surfaceId, o.cutter))),
    programsOf: onceFor((station, operation) => operationPrograms(workshop, id, station, operation, planned)),
    sourcesOf: onceFor((station, operation) => programSources(workshop, station, operation, planned)),
  };
}

/** The same answer for every label: what an operation cuts of one decides nothing here. */
function onceFor<T>(
  make: (station: string, operation: Operation) => T,
): (station: string, operation: Operation) => T {
  const known = new Map<string, T>();
  return (station, operation) => {
    const { part, surfaceId, cutter } = operation;
    const key = [station, part, surfaceId, cutter].join(' ');
    const found = known.get(key) ?? make(station, operation);
    known.set(key, found);
    return found;
  };
}

/** Reads programs again and compares each with the layout it says it was written from. Fits are made once. */
export function readbackOf(workshop: Workshop): (file: string, text: string) => ReadFile {
  const editions = new Map<string, EditionReader>();
  const readerOf = (id: string): EditionReader => {
    const reader = editions.get(id) ?? editionReader(workshop, id);
    editions.set(id, reader);
    return reader;
  };
  const readers = new Map<string, NumberReader>();
  return (file, text) => {
    const refused = (found: Problem): ReadFile => ({ file, ok: false, problems: [found] });
    const reading = readProgram(text);
    if (!reading.ok) return { file, ok: false, problems: problemsInFile(file, reading.problems) };
    const { head } = reading.program;
    if (!workshop.documents.editions.has(head.edition))
      return refused(problem('app.program-of-other-edition', file, { edition: head.edition }));
    const { planned, operationsFor, programsOf, sourcesOf } = readerOf(head.edition);
    const numbered = planned.filter(({ label }) => remarkWords(label) === head.label);
    const labels = numbered.map(({ label }) => label);
    const operation = operationsFor(labels).find(
      (o) => o.part === head.part && o.surfaceId === head.surface && o.cutter === head.cutter,
    );
    if (!operation)
      return refused(
        problem('app.program-of-no-operation', file, {
          part: head.part,
          surface: head.surface,
          cutter: head.cutter,
        }),
      );
    if (labels.length === 0)
      return refused(problem('app.program-label-unknown', file, { label: head.label }));
    const station = /, station ([a-z0-9-]+)$/.exec(head['set-up'])?.[1] ?? '';
    if (!workshop.documents.stations.has(station))
      return refused(problem('app.program-station-unknown', file, { station: head['set-up'] }));
    const stale = staleKinds(head, designDigest(workshop, operation), sourcesOf(station, operation));
    if (stale.length > 0) {
      const problems = stale.map((kind) => problem('app.program-stale', file, { kind }));
      return { file, ok: false, problems };
    }
    const { setup, head: written } = programsOf(station, operation);
    if (head['set-up'] !== remarkWords(written.setup))
      return refused(
        problem('app.program-of-other-setup', file, { found: head['set-up'], want: written.setup }),
      );
    const { edition, part, surface } = head;
    const ofNumber = (label: string): ProgramOf => {
      const { series, number } = numbered.find((one) => one.label === label)!;
      return { edition, series, number, label, part, surface, cutter: head.cutter, setup: head['set-up'] };
    };
    const cutter = workshop.documents.cutters.get(operation.cutter)!;
    const place = `${head.edition} ${operation.part} ${operation.surfaceId} ${operation.cutter} ${station}`;
    const reader = readers.get(place) ?? numberReader(operation, setup, cutter);
    readers.set(place, reader);
    const { cuts } = readback(reading.program, setup.surface, setup.station, setup.proud);
    const draw = async () => {
      const canvas = await fileCanvas();
      return readbackPicture(canvas, setup.surface, cuts, (depth) => cutWidth(cutter, Math.max(0, depth)));
    };
    // Labels that differ only in letters a program comment cannot hold differ in what is cut.
    const answers = labels.map((label): ReadFile => {
      const blocks = blocksOf(operation, label);
      const proof = proveText(setup, text, blocks);
      if (Array.isArray(proof))
        return { file, ok: false, label, of: ofNumber(label), problems: problemsInFile(file, proof), draw };
      const { worstMm, depthError } = proof;
      const numbers = reader(label, cuts);
      const misread = numbers
        .filter(({ reads, wanted }) => reads !== wanted)
        .map(({ mark, reads, wanted }) =>
          problem('app.cut-reads-otherwise', `mark ${mark}`, { reads, wanted }),
        );
      const problems = problemsInFile(file, [...proof.problems, ...misread]);
      const ok = proof.ok && misread.length === 0;
      const [first] = numbers;
      const reads = first && { reads: first.reads };
      return { file, ok, label, of: ofNumber(label), worstMm, depthError, ...reads, problems, draw };
    });
    const answer = answers.find((a) => a.ok) ?? answers[0]!;
    const misplaced = placeProblem(file, answer.of!, readerOf(head.edition));
    if (misplaced) return { ...answer, ok: false, problems: [misplaced, ...answer.problems] };
    if (answer.ok) return answer;
    const names = reading.program.cuts.map(({ name }) => name);
    const others = planned.map(({ label }) => label).filter((label) => !labels.includes(label));
    const other = labelsByBlocks(operation, operationsFor, others, names).find((label) => {
      const theirs = operationsFor([label]).find((one) => isSameOperation(one, operation))!;
      const proof = proveText(setup, text, blocksOf(theirs, label));
      return !Array.isArray(proof) && proof.ok;
    });
    // What else differs follows from that.
    if (other === undefined) return answer;
    const values = { label: answer.label!, other };
    return { ...answer, problems: [problem('app.program-of-other-label', file, values)] };
  };
}

/** What decided the cut and has changed since, the design first. */
function staleKinds(
  head: ReadHead,
  design: string,
  sources: ProgramSources,
): ('design' | (typeof SOURCES)[number])[] {
  const stale = staleSources(head.documents, sources);
  return design === head.design ? stale : ['design', ...stale];
}

/**
 * Whether a file lies in the folder of another piece of its edition, or has the name of another of its programs: whoever
 * goes by the tray would cut the wrong piece. Elsewhere, and under a name of its own, it may lie as anyone likes.
 */
function placeProblem(
  file: string,
  of: ProgramOf,
  { planned, fileNames }: EditionReader,
): Problem | undefined {
  const { label, part, surface, cutter } = of;
  const found = basename(dirname(resolve(file)));
  const folder = pieceFolder(of);
  const other = found === folder ? undefined : planned.find((one) => pieceFolder(one) === found);
  if (other) return problem('app.program-in-other-folder', file, { label, other: other.label, folder });
  const name = programFile(part, surface, cutter);
  if (basename(file) === name || !fileNames.has(basename(file))) return undefined;
  return problem('app.program-under-other-name', file, { part, surface, cutter, name });
}

const problemsInFile = (file: string, problems: readonly Problem[]): Problem[] =>
  problems.map((p) => ({ ...p, where: p.where ? `${file}: ${p.where}` : file }));
