import type { Operation, OperationMaker } from '../cutting/operation.js';
import { remarkWords } from '../station/remark.js';
import { nameInProgram } from '../station/repeat-faults.js';

/** Labels that are proved against a program which is not that of its own label. */
const MOST_PROVED = 8;
/** Beyond so many labels their blocks are not made for this alone. */
const MOST_COMPARED = 500;

/**
 * Of other labels, those of which a program cuts the letters, by the names of its blocks. A number is known by its letters
 * alone; a dedication is cut to see which blocks it has.
 */
export function labelsByBlocks(
  operation: Operation,
  operationsFor: OperationMaker,
  others: readonly string[],
  names: readonly string[],
): string[] {
  const number = operation.marks.find(({ fitted }) => fitted.of.mark.kind === 'number')?.fitted.of.mark.id;
  if (number !== undefined) {
    const ours = listOf(names.filter((name) => name.startsWith(`${number} `)));
    return others.filter((label) => listOf(namesOf(number, label)) === ours).slice(0, MOST_PROVED);
  }
  const isDedicated = operation.marks.some(({ fitted }) => fitted.of.mark.kind === 'dedication');
  if (!isDedicated || others.length > MOST_COMPARED) return [];
  const same = operationsFor(others).find((one) => isSameOperation(one, operation));
  const ours = listOf(names);
  return others.filter((label) => same && listOf(blocksFor(same, label)) === ours).slice(0, MOST_PROVED);
}

/** Whether two operations are of one part, surface and cutter. */
export const isSameOperation = (a: Operation, b: Operation): boolean =>
  a.part === b.part && a.surfaceId === b.surfaceId && a.cutter === b.cutter;

/** The names of the blocks of a label, in no order. */
const blocksFor = ({ marks }: Operation, label: string): string[] =>
  marks.flatMap(({ blocks }) => blocks.get(label) ?? []).map(nameInProgram);

const namesOf = (mark: string, label: string): string[] =>
  [...label].filter((character) => character.trim() !== '').map((c) => remarkWords(`${mark} ${c}`));

const listOf = (names: readonly string[]): string => [...names].sort().join('\n');
