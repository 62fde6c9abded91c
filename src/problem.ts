import { IntlMessageFormat } from 'intl-messageformat';

/**
 * Faults as values. A `Problem` says what is wrong by a code, where, and with which values; the sentence for each
 * code stands in the message table of its room (`<room>/messages.ts`) and is made only at a door.
 */

/** Exit codes of the command contract: 1 found something wrong, 2 used wrongly, 3 refused by a rule. */
export type ExitCode = 1 | 2 | 3;

/** What a message may name: figures in mm or degrees, counts, texts, or another problem to be told as a part of this. */
export type ProblemValue = string | number | Problem | readonly string[];

export interface Problem {
  /** `room.what-is-wrong`; a key of the message table of that room. */
  readonly code: string;
  /** A place a person can go to: `parts/barrel.yaml:14:7: keepouts[1].to`, `series main`, `label 12/90`. */
  readonly where: string;
  readonly values: Readonly<Record<string, ProblemValue>>;
  /** Belongs to the code: the exit code of a command that ends for this problem. */
  readonly exit: ExitCode;
  /** @deprecated while rooms move to codes: the sentence, already worded. */
  readonly what: string;
  /** @deprecated while rooms move to codes. */
  readonly cure: string;
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
    what: formatMessage(table[code]!.message, values),
    cure: formatMessage(table[code]!.hint, values),
  });
  return { table, problem, refuse: (...of) => new Refusal([problem(...of)]) };
}

/** Carries problems up to a door. Throw it only where a value cannot be returned with sense. */
export class Refusal extends Error {
  readonly problems: readonly Problem[];
  /** That of the first problem. */
  readonly exit: ExitCode;

  constructor(problems: readonly Problem[]);
  /** @deprecated while rooms move to codes: the exit code belongs to the code of the problem. */
  constructor(exit: ExitCode, problems: readonly Problem[]);
  constructor(first: ExitCode | readonly Problem[], second?: readonly Problem[]) {
    const problems = typeof first === 'number' ? second! : first;
    super(problems.map(problemLine).join('\n'));
    this.name = 'Refusal';
    this.exit = typeof first === 'number' ? first : (problems[0]?.exit ?? 2);
    this.problems = problems;
  }
}

/** One line for a person; control characters can neither break it nor move the cursor. */
export function problemLine(p: Pick<Problem, 'where' | 'what' | 'cure'>): string {
  const line = [p.where && `${p.where}:`, p.what, p.cure].filter(Boolean).join(' ');
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is being taken out
  return line.replace(/[\u0000-\u001f\u007f-\u009f\u2028\u2029\u200e\u200f\u202a-\u202e\u2066-\u2069]/g, ' ');
}

const FORMATS = {
  number: {
    mm: { maximumFractionDigits: 3, useGrouping: false },
    deg: { maximumFractionDigits: 2, useGrouping: false },
  },
};

/** A message in ICU MessageFormat as a sentence. A problem among the values is told as its message. */
export function formatMessage(text: string, values: Problem['values']): string {
  const plain = Object.entries(values).map(([name, value]) => [name, formatValue(value)] as const);
  const formatted = new IntlMessageFormat(text, 'en', FORMATS, { ignoreTag: true }).format(
    Object.fromEntries(plain),
  );
  return String(formatted);
}

function formatValue(value: ProblemValue): string | number {
  if (typeof value === 'string' || typeof value === 'number') return value;
  return 'code' in value ? value.what : value.join(', ');
}

/** @deprecated while rooms move to codes: use the `problem` of the room's message table. */
export const problem = (where: string, what: string, cure: string): Problem =>
  ({ where, what, cure }) as Problem;
/** @deprecated while rooms move to codes: use the `refuse` of the room's message table. */
export const refuse = (exit: ExitCode, where: string, what: string, cure: string): Refusal =>
  new Refusal(exit, [problem(where, what, cure)]);
