import type { CutBlock } from '../cutting/cuts.js';
import { blocksOf, type Operation } from '../cutting/operation.js';
import { within } from '../problem.js';
import { boundBlock } from '../station/block-bound.js';
import { MOST_PROGRAM_BYTES } from '../station/reader-budget.js';
import { operationPrograms } from './programs.js';
import type { Workshop } from './workshop.js';

/** What a program has besides its blocks: seven comments of 200 characters, a station's forty lines of 256. */
const MOST_FRAME_BYTES = 16_000;

/**
 * Finds out whether a station can cut an operation on every piece. Throws the Refusal with which the cut of one of these
 * labels would end.
 *
 * Bounds decide over every block of every label, which is quick; what they leave open is written and proved as it would
 * be for a cut. Of the blocks that they pass, the fullest of each letter is proved as well, and the first of those that share
 * their lines: the others differ from it only in where they stand.
 */
export function checkPrograms(
  workshop: Workshop,
  editionId: string,
  stationId: string,
  operation: Operation,
  labels: readonly string[],
): void {
  const { setup, program } = operationPrograms(workshop, editionId, stationId, operation);
  /** The most bytes of each block, or just how many where it was written. */
  const bytes = new Map<string, number>();
  const prove = (label: string, blocks: readonly CutBlock[]): void => {
    const { blockBytes } = within(`label ${label}`, () => program(label, blocks));
    for (const [k, { key }] of blocks.entries()) bytes.set(key, blockBytes[k]!);
  };

  const fullest = new Map<string, { readonly label: string; readonly block: CutBlock }>();
  const shared = new Set<CutBlock['lines']>();
  const bytesOf = (label: string, block: CutBlock): number => {
    const known = bytes.get(block.key);
    if (known !== undefined) return known;
    const bound = boundBlock(setup, block);
    if (bound === undefined) {
      prove(label, [block]);
      return bytes.get(block.key)!;
    }
    bytes.set(block.key, bound);
    if (shared.has(block.lines)) return bound;
    shared.add(block.lines);
    const kind = `${block.mark} ${block.name}`;
    const before = fullest.get(kind);
    if (!before || pointsOf(block) > pointsOf(before.block)) fullest.set(kind, { label, block });
    return bound;
  };

  // Where no label changes a mark, all have one list.
  const listBytes = new Map<readonly CutBlock[], number>();
  const bytesOfList = (label: string, list: readonly CutBlock[]): number => {
    const most = listBytes.get(list) ?? list.reduce((sum, block) => sum + bytesOf(label, block), 0);
    listBytes.set(list, most);
    return most;
  };
  for (const label of labels) {
    const lists = operation.marks.flatMap(({ blocks }) => [blocks.get(label) ?? []]);
    const most = lists.reduce((sum, list) => sum + bytesOfList(label, list), MOST_FRAME_BYTES);
    if (most <= MOST_PROGRAM_BYTES) continue;
    prove(label, blocksOf(operation, label));
    for (const list of lists) listBytes.delete(list);
  }
  for (const { label, block } of fullest.values()) prove(label, [block]);
}

const pointsOf = ({ lines }: CutBlock): number => lines.reduce((sum, line) => sum + line.points.length, 0);
