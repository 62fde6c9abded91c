import { spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

export const main = fileURLToPath(new URL('../../dist/cli/main.js', import.meta.url));
if (!existsSync(main)) throw new Error('Build first: npm run build.');

const NO_KEYS = join(tmpdir(), 'burin-keys-of-nobody');

/** What a command says that entered something where no key was made. */
export const UNSIGNED =
  'Not signed: log burin/lantern-coast: There is no key yet. `burin key new` makes one.\n';

export interface Said {
  readonly code: number | null;
  readonly signal: NodeJS.Signals | null;
  readonly stdout: string;
  readonly stderr: string;
}

export interface Around {
  readonly cwd?: string;
  readonly env?: NodeJS.ProcessEnv;
  readonly input?: string;
  /** Runs the words through `sh`, with burin's own words as "$@". */
  readonly sh?: string;
  readonly uid?: number;
  /** Called with the way to kill it outright. */
  readonly started?: (kill: () => void) => void;
  /** Closes our end of stdout at once, as a reader does that has seen enough. */
  readonly deaf?: boolean;
}

/** Runs the built command as a person would, and gives everything it said. */
export function burin(args: readonly string[], around: Around = {}): Promise<Said> {
  const own = [process.execPath, main, ...args];
  const [program, ...rest] = around.sh ? ['sh', '-c', around.sh, 'sh', ...own] : own;
  return new Promise((resolve, reject) => {
    const child = spawn(program!, rest, {
      cwd: around.cwd,
      // Nobody's own keys: what is signed here is signed with keys made here.
      env: { ...process.env, BURIN_KEYS: NO_KEYS, ...around.env },
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
    around.started?.(() => child.kill('SIGKILL'));
  });
}

/** As `burin`, for steps that have to go well before the question can be put. */
export async function well(args: readonly string[], around: Around = {}): Promise<string> {
  const said = await burin(args, around);
  if (said.code !== 0) throw new Error(`burin ${args.join(' ')}: ${said.code}\n${said.stderr}`);
  return said.stdout;
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
