import type { CommanderError } from 'commander';
import { diskProblem } from '../app/disk.js';
import { type ExitCode, type Problem, problem, problemLine, Refusal, refuse } from '../problem.js';

/** A slip in the words given to a command, as a Refusal; an answer that was asked for, such as help, as it is. */
export function slip(error: CommanderError, command: string): Error {
  if (error.exitCode === 0) return error;
  const cure = `\`${command} --help\` tells more.`;
  if (error.code === 'commander.help') return refuse(2, command, 'No command is named.', cure);
  const said = error.message.replace(/^error: /, '').replace(/\s*\n\s*/g, ' ');
  const what = said.charAt(0).toUpperCase() + said.slice(1);
  return refuse(2, command, /[.?!]$/.test(what) ? what : `${what}.`, cure);
}

/** Tells what went wrong, a line each on stderr, and as JSON on stdout when asked for; gives the exit code. */
export function tell(error: unknown, json: boolean): ExitCode {
  const { exit, problems } = failure(error);
  for (const one of problems) process.stderr.write(`${problemLine(one)}\n`);
  if (json) process.stdout.write(`${JSON.stringify({ ok: false, problems }, null, 2)}\n`);
  return exit;
}

function failure(error: unknown): { exit: ExitCode; problems: readonly Problem[] } {
  if (error instanceof Refusal) return error;
  const disk = diskProblem(error);
  if (disk) return { exit: 2, problems: [disk] };
  // Not of the user's making: whoever mends it wants to know where it came from.
  process.stderr.write(`${error instanceof Error ? error.stack : String(error)}\n`);
  return { exit: 2, problems: [problem('burin', 'This is a fault of burin itself.', 'Please report it.')] };
}

/** A reader that has seen enough closes the pipe: no error. Any other trouble with an answer must not pass unseen. */
export function watchStreams(): void {
  process.stderr.on('error', () => undefined);
  process.stdout.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code === 'EPIPE') return;
    process.exitCode = tell(
      new Refusal(2, [diskProblem(error, 'stdout') ?? problem('stdout', error.message, '')]),
      false,
    );
  });
}
