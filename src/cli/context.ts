import { type Command, InvalidArgumentError } from 'commander';
import { type Environment, environmentOf } from '../app/environment.js';

/** What every command is given besides its own words. */
export interface CliContext {
  readonly workshop: string;
  readonly environment: Environment;
  readonly json: boolean;
  /** Talk, for a person: to stderr. */
  say(line: string): void;
  /** The answer: as JSON alone on stdout when asked for, else these lines on stdout. */
  answer(value: unknown, lines: readonly string[]): void;
  /** Sets the exit code of a command that answered, but with something wrong. */
  end(code: 0 | 1 | 2 | 3): void;
}

export interface GlobalOptions {
  readonly workshop: string;
  readonly json?: boolean;
}

export function contextOf(command: Command): CliContext {
  const options = command.optsWithGlobals<GlobalOptions>();
  const json = options.json === true;
  return {
    workshop: options.workshop,
    environment: environmentOf(process.env),
    json,
    say: (line) => process.stderr.write(`${line}\n`),
    answer: (value, lines) =>
      process.stdout.write(
        json ? `${JSON.stringify(value, null, 2)}\n` : lines.map((l) => `${l}\n`).join(''),
      ),
    end: (code) => {
      process.exitCode = code;
    },
  };
}

/** How many pieces: what a series can hold at most. */
export function count(text: string): number {
  if (!/^[1-9][0-9]{0,4}$/.test(text))
    throw new InvalidArgumentError('A whole number from 1 to 99999 is wanted.');
  return Number(text);
}
