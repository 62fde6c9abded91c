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

/** What is used of a process. */
export interface ProcessStreams {
  readonly stdin: NodeJS.ReadableStream;
  readonly stdout: NodeJS.WritableStream & { readonly destroyed: boolean };
  readonly stderr: NodeJS.WritableStream & { readonly isTTY?: boolean };
  readonly env: Readonly<Record<string, string | undefined>>;
}

export const processTerminal = ({ stdin, stdout, stderr, env }: ProcessStreams): Terminal => ({
  input: () => text(stdin),
  out: (line) => stdout.write(line),
  outPaced: async (line) => {
    if (stdout.destroyed || stdout.write(line) || stdout.destroyed) return;
    await new Promise<void>((resolve) => {
      const events = ['drain', 'close', 'error'];
      const done = () => {
        for (const event of events) stdout.off(event, done);
        resolve();
      };
      // What an error comes to is not decided here.
      for (const event of events) stdout.on(event, done);
    });
  },
  err: (line) => stderr.write(line),
  watched: stderr.isTTY === true,
  variables: env,
  now: () => performance.now(),
});
