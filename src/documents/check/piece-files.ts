import { programFile, sheetFile } from '../../piece-files.js';
import type { Problem } from '../../problem.js';
import { problem } from '../messages.js';
import type { Design } from '../schema/design.js';
import type { At } from '../source-places.js';

/** Where two surfaces, or two cutters on them, would share the name of a file of the piece. */
export function pieceFileProblems(designs: readonly Design[], at: At): Problem[] {
  const problems: Problem[] = [];
  const owners = new Map<string, string>();
  const take = (file: string, owner: string): void => {
    const other = owners.get(file);
    owners.set(file, other ?? owner);
    if (other === undefined || other === owner) return;
    problems.push(problem('documents.piece-files-clash', at('designs'), { one: other, other: owner, file }));
  };
  for (const { part, marks } of designs)
    for (const { surface } of marks) take(sheetFile(part, surface), `surface ${surface} of part ${part}`);
  for (const { part, marks } of designs)
    for (const { surface, cutter } of marks)
      take(programFile(part, surface, cutter), `cutter ${cutter} on surface ${surface} of part ${part}`);
  // Marks repeat a clash; each is reported once.
  return problems.filter(
    ({ values }, k) =>
      problems.findIndex((p) => p.values.file === values.file && p.values.other === values.other) === k,
  );
}
