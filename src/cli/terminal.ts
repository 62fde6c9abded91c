import { once } from 'node:events';
import { text } from 'node:stream/consumers';

/** What a command line is given of the world: three streams, and the variables of the environment. */
export interface Terminal {
  /** All of stdin. */
  readonly input: () => Promise<string>;
  readonly out: (text: string) => void;
  /** As `out`; done when the stream takes more, so that a long answer never stands in memory. */
  readonly outPaced: (text: string) => Promise<void>;
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
  outPaced: async (line) => {
    const { stdout } = process;
    if (!stdout.write(line) && !stdout.destroyed)
      await Promise.race([once(stdout, 'drain'), once(stdout, 'close')]);
  },
  err: (line) => process.stderr.write(line),
  watched: process.stderr.isTTY === true,
  variables: process.env,
  now: () => performance.now(),
});
