import { spawn } from 'node:child_process';
import { fileURLToPath } from 'node:url';

export const WORKER = fileURLToPath(new URL('./worker.mjs', import.meta.url));
/**
 * A life is counted in lines said, not in time: a busy machine would else kill all before they did anything. The longest
 * request says twenty, and each life asks the one before again: with fewer lines than both say it would get no further.
 */
const MOST_LINES = 64;
/** And then a random while, up to about two commits, so that the kill comes anywhere within one. */
const LONGEST_MS = 25;
/** Of so many kills one comes within the first moments of the process. */
const EARLY = 10;
const EARLY_MS = 600;

/** Everything a worker said in all its lives. */
export interface Spoken {
  readonly name: string;
  /** Answers to each request and each step of one, in the order they came; more than one when it was asked again. */
  readonly answers: Map<string, string[]>;
  lastAsked: number;
  /** The request, or the step of one, that it began last. */
  doing: string;
  /** Kills that met a request not yet answered. */
  unanswered: number;
}

export interface Soak {
  readonly workers: readonly Spoken[];
  readonly kills: number;
}

/** A worker that said nothing yet. */
export const silent = (name: string): Spoken => ({
  name,
  answers: new Map(),
  lastAsked: 1,
  doing: '',
  unanswered: 0,
});

/** The same chances each time, so that a failure can be looked for again. */
export function chances(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}

/** Kills and restarts workers until so many kills were made; then each is let live once more, to its end. */
export async function soak(where: Bench, names: readonly string[], kills: number): Promise<Soak> {
  const workers = names.map(silent);
  let made = 0;
  await Promise.all(
    workers.map(async (worker, i) => {
      const chance = chances(20_261_125 + i);
      while (made < kills) {
        made++;
        const early = chance() * EARLY < 1;
        const lines = early ? 0 : 1 + Math.floor(chance() * MOST_LINES);
        await life(where, worker, { lines, after: chance() * (early ? EARLY_MS : LONGEST_MS) });
      }
    }),
  );
  for (const worker of workers) await life(where, worker);
  return { workers, kills: made };
}

/** The workshop that all work in, and the variables that say where its register and its memory are. */
export interface Bench {
  readonly folder: string;
  readonly environment: Readonly<Record<string, string>>;
}

interface Kill {
  /** Lines it may say first. */
  readonly lines: number;
  /** A while after that, ms. */
  readonly after: number;
}

/** One life of a worker. Whoever is not killed must end well, and nobody may complain. */
function life({ folder, environment }: Bench, worker: Spoken, kill?: Kill): Promise<void> {
  const { name, lastAsked } = worker;
  const count = kill ? 1_000_000 : 3;
  return new Promise((resolve, reject) => {
    const words = [WORKER, folder, name, String(lastAsked), String(count)];
    const child = spawn(process.execPath, words, { env: { ...process.env, ...environment } });
    let rest = '';
    let errors = '';
    let heard = 0;
    let timer: NodeJS.Timeout | undefined;
    const doom = () => {
      timer ??= setTimeout(() => child.kill('SIGKILL'), kill?.after);
    };
    if (kill?.lines === 0) doom();
    child.stdout.setEncoding('utf8').on('data', (text: string) => {
      const lines = (rest + text).split('\n');
      // A line cut off by the kill was not said.
      rest = lines.pop()!;
      for (const line of lines) hear(worker, line);
      heard += lines.length;
      if (kill && heard >= kill.lines) doom();
    });
    child.stderr.setEncoding('utf8').on('data', (text: string) => {
      errors += text;
    });
    child.on('error', reject);
    child.on('close', (code, signal) => {
      clearTimeout(timer);
      const wanted = kill ? signal === 'SIGKILL' : code === 0;
      if (!wanted || errors) reject(new Error(`${name}: code ${code}, ${signal}: ${errors}`));
      if (kill && !worker.answers.has(worker.doing)) worker.unanswered++;
      resolve();
    });
  });
}

export function hear(worker: Spoken, line: string): void {
  const [word, request, text] = line.split(' ');
  if (word === 'asked') worker.lastAsked = Math.max(worker.lastAsked, Number(request));
  if (word === 'doing') worker.doing = request!;
  if (word !== 'answer') return;
  const before = worker.answers.get(request!);
  if (before) before.push(text!);
  else worker.answers.set(request!, [text!]);
}
