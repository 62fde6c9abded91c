import { Command, InvalidArgumentError } from 'commander';
import { type Environment, environmentOf } from '../app/environment.js';
import type { Progress } from '../app/progress.js';
import { showSteering } from '../documents/invisible.js';
import type { Problem } from '../problem.js';
import { jsonText } from './json-text.js';
import { inPieces, jsonWithList } from './long-answer.js';
import type { ProgressLine } from './progress-line.js';
import type { Terminal } from './terminal.js';

/** What every command is given besides its own words. */
export interface CliContext {
  readonly workshop: string;
  readonly environment: Environment;
  readonly json: boolean;
  /** All of stdin. */
  input(): Promise<string>;
  /** Talk, for a person: to stderr. */
  say(line: string): void;
  /** The same of a problem that does not end the command: the heading, then its line. */
  tell(heading: string, problem: Problem): Promise<void>;
  /** The answer: as JSON alone on stdout when asked for, else these lines on stdout. */
  answer(value: unknown, lines: readonly string[]): void;
  /** The same of an answer that ends with a list, written as the list is read; `linesOf` some of it at a time. */
  answerList<T>(
    head: object,
    name: string,
    items: Iterable<T>,
    linesOf: (some: readonly T[]) => readonly string[],
  ): Promise<void>;
  /** Part of a long answer on stdout; done when the stream takes more. */
  outPaced(text: string): Promise<void>;
  /** Sets the exit code of a command that answered, but with something wrong. */
  end(code: 0 | 1 | 2 | 3): void;
  /** Shows a person who waits how far a long job is. */
  readonly progress: Progress;
}

export interface GlobalOptions {
  readonly workshop: string;
  readonly json?: boolean;
}

/** The command line as a whole: its terminal, and the exit code that its command comes to. */
export class Program extends Command {
  code: 0 | 1 | 2 | 3 = 0;

  constructor(
    readonly terminal: Terminal,
    readonly line: ProgressLine,
  ) {
    super('burin');
  }
}

function programOf(command: Command): Program {
  let root = command;
  while (root.parent) root = root.parent;
  if (root instanceof Program) return root;
  throw new TypeError('a command outside the program');
}

/** What the warnings of a register are about; those of a register that should have events have no code of their own. */
const WARNINGS: Readonly<Record<string, string>> = {
  'register.moved': 'Moved away',
  'register.connection-not-verified': 'Not secure',
};

export function contextOf(command: Command): CliContext {
  const options = command.optsWithGlobals<GlobalOptions>();
  const json = options.json === true;
  const program = programOf(command);
  const { terminal, line: progressLine } = program;
  const err = (text: string): void => {
    progressLine.clear();
    terminal.err(text);
  };
  const tell: CliContext['tell'] = async (heading, problem) => {
    // Loaded only where there is something to word.
    const { toUserLine } = await import('./describe-problem.js');
    err(`${heading}: ${toUserLine(problem)}\n`);
  };
  return {
    workshop: options.workshop,
    environment: {
      ...environmentOf(terminal.variables),
      tell: (problem) => tell('Not remembered', problem),
      warn: (problem) => tell(WARNINGS[problem.code] ?? 'Missing', problem),
    },
    json,
    input: terminal.input,
    say: (line) => err(`${showSteering(line)}\n`),
    tell,
    answer: (value, lines) => {
      progressLine.clear();
      terminal.out(json ? `${jsonText(value)}\n` : asLines(lines));
    },
    answerList: async (head, name, items, linesOf) => {
      progressLine.clear();
      const texts = json
        ? jsonWithList(head, name, items)
        : inPieces(items, (some) => asLines(linesOf(some)));
      for (const text of texts) await terminal.outPaced(text);
    },
    outPaced: terminal.outPaced,
    end: (code) => {
      program.code = code;
    },
    progress: progressLine.progress,
  };
}

const asLines = (lines: readonly string[]): string => lines.map((line) => `${showSteering(line)}\n`).join('');

/** How many pieces: what a series can hold at most. */
export function count(text: string): number {
  if (!/^[1-9][0-9]{0,4}$/.test(text)) throw new InvalidArgumentError('Give a whole number from 1 to 99999.');
  return Number(text);
}
