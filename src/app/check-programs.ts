import type { CutBlock } from '../cutting/cuts.js';
import { blocksOf, type Operation } from '../cutting/operation.js';
import type { Numbered } from '../edition/labels.js';
import { placedIn, Refusal, within } from '../problem.js';
import { prepareBlock } from '../station/block.js';
import { boundBlock } from '../station/block-bound.js';
import { MOST_COMPARE_STEPS, MOST_PROGRAM_BYTES } from '../station/reader-budget.js';
import { advisingFeed, operationPrograms } from './programs.js';
import type { Workshop } from './workshop.js';

/** What a program has besides its blocks: eight comments of 200 characters, a station's forty lines of 256. */
const MOST_FRAME_BYTES = 16_000;

/** The block that stands for others takes about as many steps to prove: beyond this part of the most, all are proved. */
const SURE_OF_STEPS = 0.7;

/**
 * Finds out whether a station can cut an operation on every piece. Throws the Refusal with which the cut of one of these
 * labels would end.
 *
 * Bounds decide over every block of every label, which is quick; what they leave open is written and proved as it would
 * be for a cut. Of the blocks that they pass, the fullest of each letter is proved as well, and one of those that share their
 * lines: the others differ from it only in where they stand. Where the bounds come to more than a program may
 * have, blocks are written to find out how long they are.
 */
export function checkPrograms(
  workshop: Workshop,
  editionId: string,
  stationId: string,
  operation: Operation,
  planned: readonly Numbered[],
): void {
  const { setup, program } = operationPrograms(workshop, editionId, stationId, operation, planned);
  const labels = planned.map(({ label }) => label);
  /** The most bytes of each block, or just how many where it was written. */
  const bytes = new Map<string, number>();
  const kinds = new Map<CutBlock['lines'], string>();
  const kindOf = ({ mark, name, lines }: CutBlock): string => {
    const kind = kinds.get(lines) ?? `${mark} ${name}`;
    kinds.set(lines, kind);
    return kind;
  };
  /** The most steps that the proof of a block of a kind took. */
  const steps = new Map<string, number>();
  const prove = (label: string, blocks: readonly CutBlock[]): void => {
    const { blockBytes, blockSteps } = within(`label ${label}`, () => program(label, blocks));
    for (const [k, block] of blocks.entries()) {
      bytes.set(block.key, blockBytes[k]!);
      steps.set(kindOf(block), Math.max(steps.get(kindOf(block)) ?? 0, blockSteps[k]!));
    }
  };

  const fullest = new Map<string, { readonly label: string; readonly block: CutBlock }>();
  const boundBytes = (label: string, block: CutBlock): number => {
    const known = bytes.get(block.key);
    if (known !== undefined) return known;
    const bound = boundBlock(setup, block);
    if (bound === undefined) {
      prove(label, [block]);
      return bytes.get(block.key)!;
    }
    bytes.set(block.key, bound);
    const kind = kindOf(block);
    const before = fullest.get(kind);
    if (!before || pointsOf(block) > pointsOf(before.block)) fullest.set(kind, { label, block });
    return bound;
  };
  const written = new Set<string>();
  const writtenBytes = (label: string, block: CutBlock): number => {
    if (!written.has(block.key)) {
      const made = prepareBlock(setup, block);
      if (Array.isArray(made)) {
        const found = made.map((p) => placedIn(`label ${label}`, p));
        return advisingFeed(setup, operation, () => {
          throw new Refusal(found);
        });
      }
      bytes.set(block.key, made.text.length);
      written.add(block.key);
    }
    return bytes.get(block.key)!;
  };

  const bound = sumOfList(boundBytes);
  const exact = sumOfList(writtenBytes);
  const compared = sumOfList((_, block) => steps.get(kindOf(block))!);
  for (const label of labels) {
    const lists = operation.marks.map(({ blocks }) => blocks.get(label) ?? []);
    const most = new Map(lists.map((list) => [list, bound(label, list)]));
    const isTooLong = () => [...most.values()].reduce((a, b) => a + b, MOST_FRAME_BYTES) > MOST_PROGRAM_BYTES;
    // The longest first, which as often as not all labels share.
    for (const [list] of [...most].sort(([, a], [, b]) => b - a)) {
      if (isTooLong()) most.set(list, exact(label, list));
    }
    if (isTooLong()) prove(label, blocksOf(operation, label));
  }
  for (const { label, block } of fullest.values()) prove(label, [block]);
  for (const label of labels) {
    const lists = operation.marks.map(({ blocks }) => blocks.get(label) ?? []);
    const most = lists.reduce((sum, list) => sum + compared(label, list), 0);
    if (most > SURE_OF_STEPS * MOST_COMPARE_STEPS) prove(label, blocksOf(operation, label));
  }
}

/** Adds up something of each block of a list. Where no label changes a mark, all have one list, which is looked at once. */
function sumOfList(
  of: (label: string, block: CutBlock) => number,
): (label: string, list: readonly CutBlock[]) => number {
  const known = new Map<readonly CutBlock[], number>();
  return (label, list) => {
    const sum = known.get(list) ?? list.reduce((most, block) => most + of(label, block), 0);
    known.set(list, sum);
    return sum;
  };
}

const pointsOf = ({ lines }: CutBlock): number => lines.reduce((sum, line) => sum + line.points.length, 0);
