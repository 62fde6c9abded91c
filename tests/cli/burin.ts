import { spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { run } from '../../src/cli/run.js';

export const main = fileURLToPath(new URL('../../dist/bin/burin.js', import.meta.url));

/** Nobody's own keys, and for each bench what the machine remembers of it alone: benches of one name are many here. */
const nobody = mkdtempSync(join(tmpdir(), 'burin-keys-of-nobody-'));
process.once('exit', () => rmSync(nobody, { recursive: true, force: true }));

function keysOfNobody(args: readonly string[], cwd = process.cwd()): string {
  const named = args.lastIndexOf('--workshop') + 1;
  const bench = resolve(cwd, named > 0 ? (args[named] ?? '.') : '.');
  return join(nobody, createHash('sha256').update(bench).digest('hex').slice(0, 16));
}

/** What a command says that entered something where no key was made. */
export const UNSIGNED =
  'Not signed: log burin/lantern-coast: There is no key yet. Make one with `burin key new`.\n';

export interface Said {
  readonly code: number | null;
  readonly stdout: string;
  readonly stderr: string;
}

export interface Around {
  readonly cwd?: string;
  readonly env?: NodeJS.ProcessEnv;
  readonly input?: string;
}

/** What is signed here is signed with keys made here. */
const variablesFor = (args: readonly string[], around: Around): NodeJS.ProcessEnv => ({
  ...process.env,
  BURIN_KEYS: keysOfNobody(args, around.cwd),
  ...around.env,
});

let last: Promise<unknown> = Promise.resolve();

/**
 * Runs a command line within this process, on streams of its own, and gives everything it said. The folder and the
 * variables are the process's while it runs, so one runs at a time; what takes a process of its own is for `started`.
 */
export function burin(args: readonly string[], around: Around = {}): Promise<Said> {
  const answer = last.then(() => within(args, around));
  last = answer.catch(() => undefined);
  return answer;
}

async function within(args: readonly string[], around: Around): Promise<Said> {
  const home = process.cwd();
  const own = process.env;
  const variables = variablesFor(args, around);
  for (const [name, value] of Object.entries(variables)) if (value === undefined) delete variables[name];
  let stdout = '';
  let stderr = '';
  const out = (text: string) => {
    stdout += text;
  };
  process.env = variables;
  if (around.cwd !== undefined) process.chdir(around.cwd);
  try {
    const code = await run(args, {
      input: () => Promise.resolve(around.input ?? ''),
      out,
      outPaced: (text) => Promise.resolve(out(text)),
      err: (text) => {
        stderr += text;
      },
      watched: false,
      variables,
      now: () => performance.now(),
    });
    return { code, stdout, stderr };
  } finally {
    process.chdir(home);
    process.env = own;
  }
}

/** As `burin`, for steps that have to go well before the question can be put. */
export async function well(args: readonly string[], around: Around = {}): Promise<string> {
  return wellDone(args, await burin(args, around));
}

export function wellDone(args: readonly string[], said: Said): string {
  if (said.code !== 0) throw new Error(`burin ${args.join(' ')}: ${said.code}\n${said.stderr}`);
  return said.stdout;
}

export interface AroundProcess extends Around {
  /** Runs the words through `sh`, with burin's own words as "$@". */
  readonly sh?: string;
  readonly uid?: number;
  /** Called with the way to kill it outright. */
  readonly begun?: (kill: () => void) => void;
  /** Closes our end of stdout at once, as a reader does that has seen enough. */
  readonly deaf?: boolean;
}

export interface Ended extends Said {
  readonly signal: NodeJS.Signals | null;
}

/** Starts the built command as a person would, and gives everything it said. */
export function started(args: readonly string[], around: AroundProcess = {}): Promise<Ended> {
  if (!existsSync(main)) throw new Error('Build first: npm run build.');
  const own = [process.execPath, main, ...args];
  const [program, ...rest] = around.sh ? ['sh', '-c', around.sh, 'sh', ...own] : own;
  return new Promise((resolve, reject) => {
    const child = spawn(program!, rest, {
      cwd: around.cwd,
      env: variablesFor(args, around),
      ...(around.uid === undefined ? {} : { uid: around.uid, gid: around.uid }),
    });
    let stdout = '';
    let stderr = '';
    child.stdout.setEncoding('utf8').on('data', (text: string) => {
      stdout += text;
    });
    child.stderr.setEncoding('utf8').on('data', (text: string) => {
      stderr += text;
    });
    if (around.deaf) child.stdout.destroy();
    // A command that was refused need not have read its input.
    child.stdin.on('error', () => undefined);
    child.stdin.end(around.input ?? '');
    child.on('error', reject);
    child.on('close', (code, signal) => resolve({ code, signal, stdout, stderr }));
    around.begun?.(() => child.kill('SIGKILL'));
  });
}

/** As `started`, for steps that have to go well. */
export async function startedWell(args: readonly string[], around: AroundProcess = {}): Promise<string> {
  return wellDone(args, await started(args, around));
}

/** Lines of a stream; the last must be whole. */
export function linesOf(text: string): string[] {
  if (text === '') return [];
  if (!text.endsWith('\n')) throw new Error(`no last line feed: ${text.slice(-80)}`);
  return text.slice(0, -1).split('\n');
}

/** Does every piece of work, so many at a time. */
export async function some<T>(
  atOnce: number,
  things: readonly T[],
  work: (thing: T) => Promise<void>,
): Promise<void> {
  const queue = [...things];
  const worker = async () => {
    for (let next = queue.shift(); next !== undefined; next = queue.shift()) await work(next);
  };
  await Promise.all(Array.from({ length: atOnce }, worker));
}
