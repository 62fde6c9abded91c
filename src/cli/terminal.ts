import { text } from 'node:stream/consumers';

/** What a command line is given of the world: three streams, and the variables of the environment. */
export interface Terminal {
  /** All of stdin. */
  readonly input: () => Promise<string>;
  readonly out: (text: string) => void;
  readonly err: (text: string) => void;
  /** Whether a person watches stderr, so that a line may be overwritten. */
  readonly watched: boolean;
  readonly variables: Readonly<Record<string, string | undefined>>;
  /** Milliseconds that only grow. */
  readonly now: () => number;
}

export const processTerminal = (): Terminal => ({
  input: () => text(process.stdin),
  out: (line) => process.stdout.write(line),
  err: (line) => process.stderr.write(line),
  watched: process.stderr.isTTY === true,
  variables: process.env,
  now: () => performance.now(),
});
