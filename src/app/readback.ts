import { blocksOf, type OperationMaker } from '../cutting/operation.js';
import { plannedNumbers } from '../edition/labels.js';
import { cutWidth } from '../layout/cut-width.js';
import { type Problem, Refusal } from '../problem.js';
import { fileCanvas } from '../sheets/file-canvas.js';
import { readbackPicture } from '../sheets/readback-picture.js';
import { proveText } from '../station/prove.js';
import { readback } from '../station/readback.js';
import { readProgram } from '../station/reader.js';
import { MOST_PROGRAM_BYTES } from '../station/reader-budget.js';
import { remarkWords } from '../station/remark.js';
import { fitEdition, fittedOperations } from './fit.js';
import { readInput } from './input-file.js';
import { problem } from './messages.js';
import { editionOf } from './open-documents.js';
import { isSameOperation, labelsByBlocks } from './other-label.js';
import { operationPrograms } from './programs.js';
import type { Workshop } from './workshop.js';

export interface ReadFile {
  readonly file: string;
  readonly ok: boolean;
  readonly label?: string;
  /** The farthest any cut lies from its line, mm, and the greatest difference in depth, mm. */
  readonly worstMm?: number;
  readonly depthError?: number;
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

/** Reads programs again and compares each with the layout it says it was written from. Fits are made once. */
export function readbackOf(workshop: Workshop): (file: string, text: string) => ReadFile {
  const editions = new Map<string, OperationMaker>();
  const operationsOf = (id: string): OperationMaker => {
    const known = editions.get(id);
    if (known) return known;
    const made = fittedOperations(fitEdition(workshop, id));
    editions.set(id, made);
    return made;
  };
  return (file, text) => {
    const refused = (found: Problem): ReadFile => ({ file, ok: false, problems: [found] });
    const reading = readProgram(text);
    if (!reading.ok) return { file, ok: false, problems: problemsInFile(file, reading.problems) };
    const { head } = reading.program;
    if (!workshop.documents.editions.has(head.edition))
      return refused(problem('app.program-of-other-edition', file, { edition: head.edition }));
    const planned = plannedNumbers(editionOf(workshop, head.edition)).map(({ label }) => label);
    const labels = planned.filter((label) => remarkWords(label) === head.label);
    const operation = operationsOf(head.edition)(labels).find(
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
    const design = workshop.digests.get(`design/${operation.marks[0]!.fitted.of.designId}`);
    if (design !== head.design) return refused(problem('app.program-of-other-design', file, {}));
    if (labels.length === 0)
      return refused(problem('app.program-label-unknown', file, { label: head.label }));
    const station = /, station ([a-z0-9-]+)$/.exec(head['set-up'])?.[1] ?? '';
    if (!workshop.documents.stations.has(station))
      return refused(problem('app.program-station-unknown', file, { station: head['set-up'] }));
    const { setup, head: written } = operationPrograms(workshop, head.edition, station, operation);
    if (head['set-up'] !== remarkWords(written.setup))
      return refused(
        problem('app.program-of-other-setup', file, { found: head['set-up'], want: written.setup }),
      );
    const draw = async () => {
      const { cuts } = readback(reading.program, setup.surface, setup.station, setup.proud);
      const cutter = workshop.documents.cutters.get(operation.cutter)!;
      const canvas = await fileCanvas();
      return readbackPicture(canvas, setup.surface, cuts, (depth) => cutWidth(cutter, Math.max(0, depth)));
    };
    // Labels that differ only in letters a program comment cannot hold differ in what is cut.
    const answers = labels.map((label): ReadFile => {
      const blocks = blocksOf(operation, label);
      const proof = proveText(setup, text, blocks);
      if (Array.isArray(proof))
        return { file, ok: false, label, problems: problemsInFile(file, proof), draw };
      const { ok, worstMm, depthError } = proof;
      return { file, ok, label, worstMm, depthError, problems: problemsInFile(file, proof.problems), draw };
    });
    const answer = answers.find((a) => a.ok) ?? answers[0]!;
    if (answer.ok) return answer;
    const operationsFor = operationsOf(head.edition);
    const names = reading.program.cuts.map(({ name }) => name);
    const others = planned.filter((label) => !labels.includes(label));
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

const problemsInFile = (file: string, problems: readonly Problem[]): Problem[] =>
  problems.map((p) => ({ ...p, where: p.where ? `${file}: ${p.where}` : file }));
