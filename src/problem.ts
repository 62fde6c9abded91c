/**
 * What is wrong, where, and how to mend it. Problems are values until they reach a door (a command, the desk),
 * which prints one line each and picks the exit code.
 */
export interface Problem {
  /** A place a person can go to: `parts/barrel.yaml:14:7: keepouts[1].to`, `series main`, `label 12/90`. */
  readonly where: string;
  readonly what: string;
  readonly cure: string;
}

/** Exit codes of the command contract: 1 found something wrong, 2 used wrongly, 3 refused by a rule. */
export type ExitCode = 1 | 2 | 3;

/** Carries problems up to a door. Throw it only where a value cannot be returned with sense. */
export class Refusal extends Error {
  readonly problems: readonly Problem[];
  readonly exit: ExitCode;

  constructor(exit: ExitCode, problems: readonly Problem[]) {
    super(problems.map(problemLine).join('\n'));
    this.name = 'Refusal';
    this.exit = exit;
    this.problems = problems;
  }
}

/** One line for a person; control characters can neither break it nor move the cursor. */
export function problemLine(p: Problem): string {
  const line = [p.where && `${p.where}:`, p.what, p.cure].filter(Boolean).join(' ');
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is being taken out
  return line.replace(/[\u0000-\u001f\u007f-\u009f\u2028\u2029\u200e\u200f\u202a-\u202e\u2066-\u2069]/g, ' ');
}

export const problem = (where: string, what: string, cure: string): Problem => ({ where, what, cure });
export const refuse = (exit: ExitCode, where: string, what: string, cure: string): Refusal =>
  new Refusal(exit, [problem(where, what, cure)]);
