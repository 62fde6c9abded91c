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
  missing: 'lost' | 'stolen' | undefined;
  /** Whether it was ever out of the house, as far as was ever said. */
  everLeft: boolean;
  papers: number;
  /** What happened, each with its place among all events and the shelf as it was before. */
  readonly past: { type: EventType; place: number; before: string }[];
  pieces: Map<string, ('blank' | 'cut' | 'spoilt' | 'gone')[]>;
}

/** What taking an event back brings back. */
const remember = ({ issued, kept, never, looked, left, missing, pieces }: Shelf): string =>
  JSON.stringify({ issued, kept, never, looked, left, missing, pieces: [...pieces] });

function bringBack(shelf: Shelf, before: string): void {
  const { pieces, ...rest } = JSON.parse(before) as Omit<Shelf, 'pieces'> & {
    pieces: [string, ('blank' | 'cut' | 'spoilt' | 'gone')[]][];
  };
  Object.assign(shelf, { ...rest, missing: rest.missing, pieces: new Map(pieces) });
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
  /** Whether a correction has a witness; a destruction always has. */
  readonly confirmed: boolean;
  /** Of which event of the number a correction is, from the last; one of another number's where it has no such. */
  readonly back: number;
  /** What is corrected. */
  readonly what: 'buyer' | 'day';
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
  [6, 'returned'],
  [2, 'lost'],
  [1, 'stolen'],
  [6, 'found'],
  [1, 'noted'],
  [4, 'corrected'],
  [8, 'retracted'],
  [3, 'programmed'],
  [5, 'certified'],
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
  confirmed: fc.boolean(),
  back: fc.oneof({ weight: 5, arbitrary: fc.constant(0) }, { weight: 2, arbitrary: fc.nat({ max: 3 }) }),
  what: fc.constantFrom('buyer' as const, 'day' as const),
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
  | 'still borne'
  | 'missing'
  | 'not missing'
  | 'nothing to miss'
  | 'not delivered'
  | 'no such event'
  | 'not the last'
  | 'nobody confirms'
  | 'no paper yet';

const CORRECTIONS: readonly string[] = ['corrected', 'retracted'];
/** What leaves the shelf as it is. */
const REMARKS: readonly string[] = ['noted', 'corrected', 'programmed', 'certified'];

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
          ...{ missing: undefined, everLeft: false, papers: 0, past: [] },
        });
      }
    }
  }

  /** What `next` takes. */
  free(series: string): Shelf | undefined {
    return this.shelves.find((s) => s.series === series && !s.issued && !s.kept && !s.never);
  }

  /** The place of the event that a correction is of. */
  target({ past }: Shelf, { back }: Command): number {
    return past.at(-1 - back)?.place ?? this.events + 7;
  }

  /** Does it, or says why not and changes nothing. */
  apply(type: EventType, shelf: Shelf, command: Command): Reason | undefined {
    const { part } = command;
    const reason = this.#hindrance(type, shelf, command);
    if (reason !== undefined) return reason;
    const place = this.events++;
    if (type === 'closed') {
      this.closed = true;
      return undefined;
    }
    this.seen.add(shelf);
    if (type === 'certified') shelf.papers++;
    if (type === 'retracted') {
      bringBack(shelf, shelf.past.pop()!.before);
      return undefined;
    }
    if (REMARKS.includes(type)) return undefined;
    shelf.past.push({ type, place, before: remember(shelf) });
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
    if (type === 'delivered') shelf.left = shelf.everLeft = true;
    if (type === 'lost' || type === 'stolen') shelf.missing = type;
    if (type === 'found') shelf.missing = undefined;
    if (type === 'scrapped' || type === 'returned') {
      shelf.looked = false;
      shelf.left = false;
    }
    return undefined;
  }

  #hindrance(type: EventType, shelf: Shelf, command: Command): Reason | undefined {
    const { part, by, witness, confirmed, what } = command;
    if (this.closed && (type === 'closed' || !shelf.issued)) return 'closed';
    if (type === 'closed') return undefined;
    if (type === 'noted') return undefined;
    const same = by.toLowerCase() === witness.toLowerCase();
    if (CORRECTIONS.includes(type)) {
      const last = shelf.past.at(-1);
      const wrong = shelf.past.find(({ place }) => place === this.target(shelf, command));
      if (type === 'corrected' && (!wrong || (what === 'buyer' && wrong.type !== 'delivered')))
        return 'no such event';
      if (type === 'retracted' && (!wrong || wrong !== last || wrong.type === 'issued'))
        return 'not the last';
      if (confirmed) return same ? 'same person' : undefined;
      const final = type === 'retracted' && ['void', 'destroyed'].includes(wrong!.type);
      return shelf.everLeft || final ? 'nobody confirms' : undefined;
    }
    if (shelf.never) return 'void';
    if (shelf.missing && !['found', 'void', 'issued'].includes(type)) return 'missing';
    if (shelf.kept && !['released', 'void', 'lost', 'stolen', 'found'].includes(type)) return 'withheld';
    const beforeIssue = ['issued', 'withheld', 'released', 'void'].includes(type);
    if (!shelf.issued && !beforeIssue) return 'not issued';
    const ofParts = ['engraved', 'scrapped', 'destroyed', 'recut', 'programmed'].includes(type);
    if (type === 'destroyed' && same) return 'same person';
    if (ofParts && type !== 'programmed' && chosen(shelf, part).length === 0) return 'no such part';
    const every = (...states: string[]) => chosen(shelf, part).every((p) => states.includes(p.at(-1)!));
    const present = [...shelf.pieces.values()].map((pieces) => pieces.at(-1)!);
    switch (type) {
      case 'issued':
        return shelf.issued ? 'issued before' : undefined;
      case 'engraved':
      case 'programmed':
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
      case 'returned':
        return shelf.left ? undefined : 'not delivered';
      case 'lost':
      case 'stolen':
        return present.some((p) => p === 'cut' || p === 'spoilt') ? undefined : 'nothing to miss';
      case 'found':
        return shelf.missing ? undefined : 'not missing';
      case 'certified':
        return present.every((p) => p === 'cut') ? undefined : 'no paper yet';
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
  if (shelf.missing) return shelf.missing;
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

/** A command, and what it says of other events. */
export interface Placed extends Command {
  readonly corrects: number;
  readonly serial: number;
  /** Its place among the commands: each correction says something else. */
  readonly turn: number;
}

/** A store under test: does what the model did, or refuses by a code. */
export interface Subject {
  /** Gives how the number then stands, or throws. */
  enter(type: EventType, shelf: Shelf, command: Placed, key: string): Promise<string | undefined>;
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
        const placed = {
          ...given,
          corrects: shelf ? model.target(shelf, given) : 0,
          serial: (shelf?.papers ?? 0) + 1,
          turn: i,
        };
        const reason = shelf
          ? model.apply(type, shelf, given)
          : model.closed
            ? ('closed' as const)
            : ('none left' as const);
        const key = `k${i}`;
        const enter = () =>
          given.type === 'next'
            ? subject.next(seriesOf(given), given, key)
            : subject.enter(type, shelf!, placed, key);
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
