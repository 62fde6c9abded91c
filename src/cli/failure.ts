import type { CommanderError } from 'commander';
import { diskProblem } from '../app/disk.js';
import { type ExitCode, type Problem, Refusal } from '../problem.js';
import { jsonText } from './json-text.js';
import { problem, refuse } from './messages.js';
import type { ProcessStreams, Terminal } from './terminal.js';

/** A slip in the words given to a command, as a Refusal; an answer that was asked for, such as help, as it is. */
export function usageRefusal(error: CommanderError, command: string): Error {
  if (error.exitCode === 0) return error;
  if (error.code === 'commander.help') return refuse('cli.no-command', command, { command });
  const text = error.message.replace(/^error: /, '').replace(/\s*\n\s*/g, ' ');
  const sentence = text.charAt(0).toUpperCase() + text.slice(1);
  const slip = /[.?!]\)?$/.test(sentence) ? sentence : `${sentence}.`;
  return refuse('cli.usage', command, { slip, command });
}

/** Writes what went wrong, a line each on stderr, and as JSON on stdout when asked for; gives the exit code. */
export async function reportFailure(error: unknown, json: boolean, terminal: Terminal): Promise<ExitCode> {
  const { describeProblem, toUserLine } = await import('./describe-problem.js');
  const { exit, problems } = failureOf(error, terminal);
  for (const one of problems) terminal.err(`${toUserLine(one)}\n`);
  if (json) terminal.out(`${jsonText({ ok: false, problems: problems.map(describeProblem) })}\n`);
  return exit;
}

function failureOf(error: unknown, terminal: Terminal): { exit: ExitCode; problems: readonly Problem[] } {
  if (error instanceof Refusal) return error;
  const disk = diskProblem(error);
  if (disk) return { exit: 2, problems: [disk] };
  // Not of the user's making: whoever corrects it wants to know where it came from.
  terminal.err(`${error instanceof Error ? error.stack : String(error)}\n`);
  return { exit: 2, problems: [problem('cli.fault', 'burin', {})] };
}

interface WatchedProcess extends Pick<ProcessStreams, 'stdout' | 'stderr'> {
  exitCode?: NodeJS.Process['exitCode'];
}

/** A reader that has seen enough closes the pipe: no error. Any other trouble with an answer must not pass unseen. */
export function watchStreams(of: WatchedProcess, terminal: Terminal): void {
  of.stderr.on('error', () => undefined);
  of.stdout.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code === 'EPIPE') return;
    of.exitCode = 2;
    const known =
      diskProblem(error, 'stdout') ?? problem('cli.stdout-failed', 'stdout', { error: error.message });
    void reportFailure(new Refusal([known]), false, terminal);
  });
}
