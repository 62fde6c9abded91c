/**
 * Faults as values. A `Problem` says what is wrong by a code, where, and with which values; the sentence for each
 * code stands in the message table of its room (`<room>/messages.ts`) and is made only at a door.
 */

/** Exit codes of the command contract: 1 found something wrong, 2 used wrongly, 3 refused by a rule. */
export type ExitCode = 1 | 2 | 3;

/**
 * What a message may name: lengths in mm, angles in degrees, counts, texts, phrases, and other problems, whose messages stand
 * in it.
 */
export type ProblemValue =
  | string
  | number
  | Problem
  | Phrase
  | readonly string[]
  | readonly Problem[]
  | readonly Phrase[];

export interface Problem {
  /** `room.what-is-wrong`; a key of the message table of that room. */
  readonly code: string;
  /** A place a person can go to: `parts/barrel.yaml:14:7: keepouts[1].to`, `series main`, `label 12/90`. */
  readonly where: string;
  readonly values: Readonly<Record<string, ProblemValue>>;
  /** Belongs to the code: the exit code of a command that ends for this problem. */
  readonly exit: ExitCode;
}

/** A part of a sentence, by its code; the words stand beside the messages of its room. */
export interface Phrase {
  readonly phrase: string;
  readonly values: Problem['values'];
}

/**
 * The words of one code, in ICU MessageFormat: what happened, and what to do about it. `{size, number, mm}` rounds to a
 * thousandth of a millimetre, `{angle, number, deg}` to a hundredth of a degree; counts take `plural`. Each branch of a
 * plural or select holds a space or `#`.
 */
export interface Message {
  readonly exit: ExitCode;
  readonly message: string;
  readonly hint: string;
}

export type MessageTable = Readonly<Record<string, Message>>;

/** The names that a message in ICU MessageFormat wants values for. */
type NamesIn<Text extends string> = Text extends `${string}{${infer Rest}`
  ? FirstName<Rest> | NamesIn<Rest>
  : never;
type FirstName<Rest extends string> = Rest extends `${infer Inside}}${string}`
  ? Inside extends `${infer Name},${string}`
    ? Identifier<Name>
    : Identifier<Inside>
  : never;
type Identifier<Name extends string> = Name extends `${string}${' ' | '#'}${string}` | '' ? never : Name;

type ValuesFor<M extends Message> = Readonly<
  Record<NamesIn<M['message']> | NamesIn<M['hint']>, ProblemValue>
>;

/** Phrases of one kind, in ICU MessageFormat, and what stands between two of them in a list. */
export interface PhraseTable {
  readonly between: string;
  readonly phrases: Readonly<Record<string, string>>;
}

/** Phrases of one kind, with the function that makes them. */
export interface RoomPhrases<Phrases extends PhraseTable['phrases']> extends PhraseTable {
  readonly phrases: Phrases;
  phrase<Code extends keyof Phrases & string>(
    code: Code,
    values: Readonly<Record<NamesIn<Phrases[Code]>, ProblemValue>>,
  ): Phrase;
}

export const definePhrases = <const Phrases extends PhraseTable['phrases']>(
  between: string,
  phrases: Phrases,
): RoomPhrases<Phrases> => ({ between, phrases, phrase: (code, values) => ({ phrase: code, values }) });

/** The message table of a room, with the two functions that make its problems. */
export interface RoomMessages<Table extends MessageTable> {
  readonly table: Table;
  problem<Code extends keyof Table & string>(
    code: Code,
    where: string,
    values: ValuesFor<Table[Code]>,
  ): Problem;
  /** The same, thrown: `throw refuse(...)`. */
  refuse<Code extends keyof Table & string>(
    code: Code,
    where: string,
    values: ValuesFor<Table[Code]>,
  ): Refusal;
}

export function defineMessages<const Table extends MessageTable>(table: Table): RoomMessages<Table> {
  const problem: RoomMessages<Table>['problem'] = (code, where, values) => ({
    code,
    where,
    values,
    exit: table[code]!.exit,
  });
  return { table, problem, refuse: (...of) => new Refusal([problem(...of)]) };
}

/**
 * Carries problems up to a door. Throw it only where a value cannot be returned with sense. Its `message` is for a stack
 * trace, and names codes and places; the sentences are made at the door.
 */
export class Refusal extends Error {
  readonly problems: readonly Problem[];
  /** That of the first problem. */
  readonly exit: ExitCode;

  constructor(problems: readonly Problem[]) {
    super(problems.map(({ code, where }) => `${where}: ${code}`).join('\n'));
    this.name = 'Refusal';
    this.exit = problems[0]?.exit ?? 2;
    this.problems = problems;
  }
}

/** The problem, with its own place inside another. */
export const placedIn = (where: string, problem: Problem): Problem => ({
  ...problem,
  where: problem.where === '' ? where : `${where}: ${problem.where}`,
});

/** Does the work; every problem of a Refusal out of it is placed in `where`. */
export function within<T>(where: string, work: () => T): T {
  try {
    return work();
  } catch (error) {
    throw error instanceof Refusal ? new Refusal(error.problems.map((p) => placedIn(where, p))) : error;
  }
}
