import { join } from 'node:path';
import { run } from '../../src/cli/run.js';
import { newFolder } from './folders.js';

export interface Asked {
  readonly code: number;
  readonly stdout: string;
  readonly stderr: string;
}

/** Runs a command line within this process, on streams of its own, with nobody's register and keys. */
export async function asked(words: readonly string[], workshop?: string, input = ''): Promise<Asked> {
  let stdout = '';
  let stderr = '';
  const named = workshop === undefined ? words : [...words, '--workshop', workshop];
  const code = await run(named, {
    input: () => Promise.resolve(input),
    out: (text) => {
      stdout += text;
    },
    err: (text) => {
      stderr += text;
    },
    watched: false,
    variables: { BURIN_KEYS: join(newFolder(), 'keys') },
    now: () => 0,
  });
  return { code, stdout, stderr };
}
