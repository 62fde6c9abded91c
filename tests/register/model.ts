import fc from 'fast-check';
import { expect } from 'vitest';
import { type Problem, Refusal } from '../../src/problem.js';
import type { EventType } from '../../src/register/event.js';
import { codeIn } from './by-hand.js';

/**
 * A number as a shelf would show it: for each part every piece ever begun, the last one being the present one. It is
 * written apart from the register, so that both being wrong alike is unlikely.
 */
export interface Shelf {
  readonly series: string;
  readonly number: number;
  readonly label: string;
  readonly parts: readonly string[];
  issued: boolean;
  kept: boolean;
  never: boolean;
  looked: boolean;
  left: boolean;
  readonly pieces: Map<string, ('blank' | 'cut' | 'spoilt' | 'gone')[]>;
}

const WHOLE = '';
/** Two series: one of matched parts, one of a single piece. */
export const SERIES = { main: ['cap', 'barrel'], proofs: [WHOLE] } as const;
type SeriesId = keyof typeof SERIES;

export interface Command {
  readonly type: EventType | 'next' | 'again';
  /** Which number, by its place among all. */
  readonly of: number;
  readonly part: string | undefined;
  readonly by: 'A. Moss' | 'B. Fern';
  readonly witness: 'A. Moss' | 'B. Fern' | 'a. moss';
}

const weighted: [number, Command['type']][] = [
  [10, 'next'],
  [3, 'issued'],
  [16, 'engraved'],
  [9, 'inspected'],
  [6, 'delivered'],
  [3, 'withheld'],
  [6, 'released'],
  [6, 'scrapped'],
  [12, 'destroyed'],
  [10, 'recut'],
  [3, 'void'],
  [3, 'again'],
  [1, 'closed'],
];

export const command: fc.Arbitrary<Command> = fc.record({
  type: fc.oneof(...weighted.map(([weight, type]) => ({ weight, arbitrary: fc.constant(type) }))),
  of: fc.nat({ max: 5 }),
  part: fc.oneof(
    { weight: 6, arbitrary: fc.constant(undefined) },
    { weight: 4, arbitrary: fc.constantFrom('cap', 'barrel') },
    { weight: 1, arbitrary: fc.constant('clip') },
  ),
  by: fc.constantFrom('A. Moss', 'B. Fern'),
  witness: fc.oneof(
    { weight: 4, arbitrary: fc.constantFrom('A. Moss' as const, 'B. Fern' as const) },
    { weight: 1, arbitrary: fc.constant('a. moss' as const) },
  ),
});

/** Why a command is refused, by a name of the model's own. */
export type Reason =
  | 'closed'
  | 'void'
  | 'withheld'
  | 'not issued'
  | 'issued before'
  | 'none left'
  | 'no such part'
  | 'not blank'
  | 'scrapped before'
  | 'not scrapped'
  | 'same person'
  | 'not destroyed'
  | 'not engraved'
  | 'not inspected'
  | 'left or spoilt'
  | 'not withheld'
  | 'still borne';

export class Model {
  readonly shelves: Shelf[] = [];
  /** Those with an event, in the order of their first. */
  readonly seen = new Set<Shelf>();
  closed = false;
  events = 0;

  constructor() {
    for (const series of Object.keys(SERIES) as SeriesId[]) {
      for (let number = 1; number <= 3; number++) {
        this.shelves.push({
          ...{ series, number, label: `${series === 'main' ? '' : 'P'}${number}/3`, parts: SERIES[series] },
          ...{ issued: false, kept: false, never: false, looked: false, left: false, pieces: new Map() },
        });
      }
    }
  }

  /** What `next` takes. */
  free(series: string): Shelf | undefined {
    return this.shelves.find((s) => s.series === series && !s.issued && !s.kept && !s.never);
  }

  /** Does it, or says why not and changes nothing. */
  apply(type: EventType, shelf: Shelf, { part, by, witness }: Command): Reason | undefined {
    const reason = this.#hindrance(type, shelf, part, by, witness);
    if (reason !== undefined) return reason;
    this.events++;
    if (type === 'closed') {
      this.closed = true;
      return undefined;
    }
    this.seen.add(shelf);
    for (const pieces of chosen(shelf, part)) {
      if (type === 'engraved') pieces[pieces.length - 1] = 'cut';
      if (type === 'scrapped') pieces[pieces.length - 1] = 'spoilt';
      if (type === 'destroyed') pieces[pieces.length - 1] = 'gone';
      if (type === 'recut') pieces.push('blank');
    }
    if (type === 'issued') {
      shelf.issued = true;
      for (const name of shelf.parts) shelf.pieces.set(name, ['blank']);
    }
    if (type === 'withheld') shelf.kept = true;
    if (type === 'released') shelf.kept = false;
    if (type === 'void') shelf.never = true;
    if (type === 'inspected') shelf.looked = true;
    if (type === 'delivered') shelf.left = true;
    if (type === 'scrapped') {
      shelf.looked = false;
      shelf.left = false;
    }
    return undefined;
  }

  #hindrance(
    type: EventType,
    shelf: Shelf,
    part: string | undefined,
    by: string,
    witness: string,
  ): Reason | undefined {
    if (this.closed && (type === 'closed' || !shelf.issued)) return 'closed';
    if (type === 'closed') return undefined;
    if (shelf.never) return 'void';
    if (shelf.kept && type !== 'released' && type !== 'void') return 'withheld';
    const beforeIssue = ['issued', 'withheld', 'released', 'void'].includes(type);
    if (!shelf.issued && !beforeIssue) return 'not issued';
    const ofParts = ['engraved', 'scrapped', 'destroyed', 'recut'].includes(type);
    if (type === 'destroyed' && by.toLowerCase() === witness.toLowerCase()) return 'same person';
    if (ofParts && chosen(shelf, part).length === 0) return 'no such part';
    const every = (...states: string[]) => chosen(shelf, part).every((p) => states.includes(p.at(-1)!));
    const present = [...shelf.pieces.values()].map((pieces) => pieces.at(-1)!);
    switch (type) {
      case 'issued':
        return shelf.issued ? 'issued before' : undefined;
      case 'engraved':
        return every('blank') ? undefined : 'not blank';
      case 'scrapped':
        return every('blank', 'cut') ? undefined : 'scrapped before';
      case 'destroyed':
        return every('spoilt') ? undefined : 'not scrapped';
      case 'recut':
        return every('gone') ? undefined : 'not destroyed';
      case 'inspected':
        return present.every((p) => p === 'cut') && !shelf.looked ? undefined : 'not engraved';
      case 'delivered':
        return shelf.looked && !shelf.left ? undefined : 'not inspected';
      case 'withheld':
        return shelf.left || present.some((p) => p === 'spoilt' || p === 'gone')
          ? 'left or spoilt'
          : undefined;
      case 'released':
        return shelf.kept ? undefined : 'not withheld';
      case 'void':
        return present.some((p) => p === 'cut' || p === 'spoilt') ? 'still borne' : undefined;
    }
  }

  /** How each number stands, as the register is to give it. */
  statuses(): string[] {
    return [...this.seen].map(describeShelf);
  }
}

const chosen = (shelf: Shelf, part: string | undefined) =>
  [...shelf.pieces].filter(([name]) => part === undefined || name === part).map(([, pieces]) => pieces);

function stateOf(shelf: Shelf): string {
  if (shelf.never) return 'void';
  if (shelf.kept) return 'withheld';
  if (!shelf.issued) return 'planned';
  const present = [...shelf.pieces.values()].map((pieces) => pieces.at(-1));
  for (const [piece, state] of [
    ['spoilt', 'scrapped'],
    ['gone', 'destroyed'],
  ]) {
    if (present.includes(piece as 'spoilt')) return state!;
  }
  if (shelf.left) return 'delivered';
  if (shelf.looked) return 'inspected';
  if (!present.includes('blank')) return 'engraved';
  return [...shelf.pieces.values()].some((pieces) => pieces.length > 1) ? 'recut' : 'issued';
}

const WORD = { blank: 'blank', cut: 'engraved', spoilt: 'scrapped', gone: 'destroyed' } as const;

export function describeShelf(shelf: Shelf): string {
  const parts = [...shelf.pieces].map(([name, pieces]) => `${name} ${WORD[pieces.at(-1)!]} ${pieces.length}`);
  return `${shelf.label} ${stateOf(shelf)}: ${parts.join(', ')}`;
}

/** A store under test: does what the model did, or refuses by a code. */
export interface Subject {
  /** Gives how the number then stands, or throws. */
  enter(type: EventType, shelf: Shelf, command: Command, key: string): Promise<string | undefined>;
  next(series: string, command: Command, key: string): Promise<string>;
  statuses(): Promise<string[]>;
  size(): Promise<number>;
  end(): Promise<void>;
}

/** The codes with which a store may refuse for each reason of the model. */
export type Codes = Readonly<Record<Reason, readonly string[]>>;

/** The code of the rule that refused, by the program or by the tables. */
function codeOfRefusal(error: unknown): string {
  if (!(error instanceof Refusal)) return codeIn(error);
  const [{ code, values }] = error.problems as [Problem];
  return code === 'register.import-refused' ? (values.fault as Problem).code : code;
}

/** Commands in sequences of a hundred: the store and the model come to the same, step by step. */
export async function agreesWithModel(
  fresh: () => Promise<Subject>,
  codes: Codes,
  { sequences, seed }: { readonly sequences: number; readonly seed: number },
): Promise<Set<string>> {
  const met = new Set<string>();
  const sequence = fc.array(command, { minLength: 100, maxLength: 100 });
  await fc.assert(
    fc.asyncProperty(sequence, async (commands) => {
      const subject = await fresh();
      const model = new Model();
      const done: { again: () => Promise<string | undefined>; answer: string | undefined }[] = [];
      for (const [i, given] of commands.entries()) {
        if (given.type === 'again') {
          const one = done[given.of];
          if (one) expect(await one.again()).toBe(one.answer);
          continue;
        }
        const shelf = given.type === 'next' ? model.free(seriesOf(given)) : model.shelves[given.of]!;
        const type = given.type === 'next' ? 'issued' : given.type;
        const reason = shelf
          ? model.apply(type, shelf, given)
          : model.closed
            ? ('closed' as const)
            : ('none left' as const);
        const key = `k${i}`;
        const enter = () =>
          given.type === 'next'
            ? subject.next(seriesOf(given), given, key)
            : subject.enter(type, shelf!, given, key);
        met.add(`${type}: ${reason ?? 'done'}`);
        if (reason !== undefined) {
          const refused = await enter().then(() => 'not refused', codeOfRefusal);
          expect(codes[reason], `command ${i}, ${type} ${shelf?.label}: ${reason}`).toContain(refused);
          continue;
        }
        const answer = await enter();
        if (given.type !== 'next' && type !== 'closed' && answer !== undefined)
          expect(answer).toBe(describeShelf(shelf!));
        if (given.type === 'next') expect(answer).toBe(shelf!.label);
        if (type !== 'issued' || given.type === 'next') done.unshift({ again: enter, answer });
      }
      expect(await subject.statuses()).toEqual(model.statuses());
      expect(await subject.size()).toBe(model.events);
      await subject.end();
    }),
    // Shrinking would take longer than reading the failing sequence.
    { numRuns: sequences, seed, endOnFailure: true },
  );
  return met;
}

const seriesOf = ({ of }: Command): string => (of % 2 ? 'main' : 'proofs');
