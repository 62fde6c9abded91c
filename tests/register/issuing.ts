import { spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const here = (path: string) => fileURLToPath(new URL(path, import.meta.url));

export function mustBeBuilt(): void {
  if (!existsSync(here('../../dist/register/open.js'))) throw new Error('Build first: npm run build.');
}

export interface Said {
  readonly asked: string[];
  readonly given: Map<string, number>;
  readonly errors: string;
  readonly code: number | null;
  readonly signal: NodeJS.Signals | null;
}

/** An issuing process that runs. */
export interface Issuing {
  readonly ended: Promise<Said>;
  /** How many numbers it was given so far. */
  given(): number;
  /** Lets it finish what it asks, and end. */
  stop(): void;
}

/** Runs one issuing process to its end; `killAfter` kills it outright once it was given so many numbers. */
export const issuer = (where: string, name: string, count: number, killAfter?: number): Promise<Said> =>
  issuing(where, name, count, killAfter).ended;

export function issuing(
  where: string,
  name: string,
  count: number,
  killAfter = Number.POSITIVE_INFINITY,
): Issuing {
  const child = spawn(process.execPath, [here('./issuer.mjs'), where, name, String(count)]);
  let output = '';
  let errors = '';
  const ended = new Promise<Said>((resolve, reject) => {
    child.stdout.setEncoding('utf8').on('data', (text: string) => {
      output += text;
      if (output.split('given').length > killAfter) child.kill('SIGKILL');
    });
    child.stderr.setEncoding('utf8').on('data', (text: string) => {
      errors += text;
    });
    child.on('error', reject);
    child.on('close', (code, signal) => {
      // A line cut off by the kill was not said.
      const lines = output
        .split('\n')
        .slice(0, -1)
        .map((line) => line.split(' '));
      resolve({
        asked: lines.filter(([word]) => word === 'asked').map(([, key]) => key!),
        given: new Map(lines.filter(([word]) => word === 'given').map(([, key, n]) => [key!, Number(n)])),
        errors,
        code,
        signal,
      });
    });
  });
  return { ended, given: () => output.split('given').length - 1, stop: () => child.stdin.end() };
}
