import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, describe, expect, test } from 'vitest';
import { parse, stringify } from 'yaml';
import { fitEdition, fittedOperations } from '../../src/app/fit.js';
import { operationPrograms } from '../../src/app/programs.js';
import { numberReader } from '../../src/app/read-numbers.js';
import { openWorkshop, type Workshop } from '../../src/app/workshop.js';
import type { CutBlock } from '../../src/cutting/cuts.js';
import { blocksOf, type Operation } from '../../src/cutting/operation.js';
import { plannedNumbers } from '../../src/edition/labels.js';
import { Refusal } from '../../src/problem.js';
import { readback } from '../../src/station/readback.js';
import { readProgram } from '../../src/station/reader.js';
import { joinChunks } from '../../src/text-chunks.js';
import { newQuickBench } from '../cli/folders.js';
import { newEnvironment, newFolder, removeFolders } from './workshop.js';

afterEach(removeFolders);

const EDITION = 'nine-lights';
const SERIES = [
  { id: 'main', title: 'Numbered edition', from: 1, to: 1000, pad: 4, total: { joiner: '/' } },
  {
    ...{ id: 'proofs', title: "Artist's proofs", from: 1, to: 99, figures: 'roman', before: 'A.P. ' },
    total: { joiner: '/' },
  },
];

interface Document {
  readonly marks: readonly object[];
}

/** The sample bench with an edition of a thousand and its proofs, and its number cut in one font and one way. */
function bench(mark: Readonly<Record<string, unknown>>): string {
  const dir = join(newFolder(), 'bench');
  newQuickBench(dir);
  mend(dir, `editions/${EDITION}.yaml`, (edition) => ({
    ...edition,
    designs: ['cap-number'],
    series: SERIES,
  }));
  mend(dir, 'designs/cap-number.yaml', (design) => ({ ...design, marks: [{ ...design.marks[0], ...mark }] }));
  return dir;
}

function mend(dir: string, file: string, change: (document: Document) => unknown): void {
  const path = join(dir, file);
  writeFileSync(path, stringify(change(parse(readFileSync(path, 'utf8')))));
}

/** The workshop with the smallest letters, to a twentieth, at which the number can be cut. */
async function smallest(dir: string): Promise<Workshop> {
  for (let size = 0.5; size < 4; size *= 1.05) {
    mend(dir, 'designs/cap-number.yaml', (design) => ({ ...design, marks: [{ ...design.marks[0], size }] }));
    const workshop = await openWorkshop(dir, newEnvironment());
    // Most sizes that are too small are refused by a few of the labels already.
    const labels = plannedNumbers(workshop.documents.editions.get(EDITION)!);
    const few = labels.filter((_, k) => k % 111 === 0);
    if (fitEdition(workshop, EDITION, few).ok && fitEdition(workshop, EDITION).ok) return workshop;
  }
  throw new Error('no size passes');
}

function readerOf(workshop: Workshop) {
  const planned = plannedNumbers(workshop.documents.editions.get(EDITION)!);
  const labels = planned.map(({ label }) => label);
  const [operation] = fittedOperations(fitEdition(workshop, EDITION))(labels) as [Operation];
  const { setup, program } = operationPrograms(workshop, EDITION, 'rotary-level', operation, planned);
  const cutter = workshop.documents.cutters.get(operation.cutter)!;
  const numbersOf = numberReader(operation, setup, cutter);
  /** What is read where `label` was to be, when these blocks are cut. */
  const read = (label: string, blocks: readonly CutBlock[]): string => {
    const reading = readProgram(joinChunks(program(label, blocks).text));
    if (!reading.ok) throw new Refusal(reading.problems);
    const { cuts } = readback(reading.program, setup.surface, setup.station, setup.proud);
    return numbersOf(label, cuts)[0]!.reads;
  };
  return { labels, operation, read };
}

const WAYS = [
  { font: 'burin-plain', way: 'trace', cutter: 'drag-12' },
  { font: 'jost', way: 'trace', cutter: 'drag-12', spacing: 0.1 },
  { font: 'jost', way: 'groove', cutter: 'cone-40' },
  { font: 'garamond', way: 'trace', cutter: 'drag-12', spacing: 0.1 },
  { font: 'garamond', way: 'groove', cutter: 'cone-40' },
  { font: 'cormorant', way: 'groove', cutter: 'cone-40' },
  { font: 'jost', way: 'clear', cutter: 'cone-40' },
];

describe.each(WAYS)('$font, $way, from the smallest size that passes', (mark) => {
  test('numbers of a thousand, and their proofs, are read right from their programs', async () => {
    const workshop = await smallest(bench(mark));
    const { labels, operation, read } = readerOf(workshop);
    // All of them in the house's own hand, of the others every nineteenth.
    const some = mark.font === 'burin-plain' ? labels : labels.filter((_, k) => k % 19 === 0);
    const wrong = some.flatMap((label) => {
      const reads = read(label, blocksOf(operation, label));
      return reads === bare(label) ? [] : [`${label} ${reads}`];
    });
    expect(wrong).toEqual([]);
    // The program of another number, whose digits are swapped or changed for what looks like them, does not pass for this one.
    const changed = ['0312/1000', '0896/1000'].flatMap((label) =>
      changesOf(label, labels).map((other) => ({
        label,
        other,
        reads: read(label, blocksOf(operation, other)),
      })),
    );
    expect(changed.length).toBeGreaterThan(20);
    expect(changed.filter(({ label, reads }) => reads === label)).toEqual([]);
  });
});

const bare = (label: string): string => label.replaceAll(' ', '');

/** Labels of the edition that differ in one digit, or in the order of two neighbours. */
function changesOf(label: string, labels: readonly string[]): string[] {
  const swapped = [0, 1, 2].map((k) => label.slice(0, k) + label[k + 1] + label[k] + label.slice(k + 2));
  const differs = (other: string) => [...other].filter((c, k) => c !== label[k]).length === 1;
  const one = labels.filter((other) => other.length === label.length && differs(other));
  return [...new Set([...swapped.filter((other) => labels.includes(other)), ...one])].filter(
    (other) => other !== label,
  );
}
