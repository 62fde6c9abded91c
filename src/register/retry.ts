import { setTimeout as sleep } from 'node:timers/promises';

export interface RetryPolicy {
  readonly firstPauseMs: number;
  readonly longestPauseMs: number;
  /** Called with each error and the time spent so far; returns where it is worth trying again, else throws. */
  onError(error: unknown, spentMs: number): void;
}

/**
 * Does the work, again and again, with longer and longer pauses, until it succeeds or the policy ends it. Between tries
 * the program is free for other work. The work must leave nothing behind when it fails.
 */
export async function withRetry<T>(work: (spentMs: number) => Promise<T>, policy: RetryPolicy): Promise<T> {
  const { firstPauseMs, longestPauseMs, onError } = policy;
  const began = performance.now();
  const spent = () => performance.now() - began;
  for (let pause = firstPauseMs; ; pause = Math.min(pause * 2, longestPauseMs)) {
    try {
      return await work(spent());
    } catch (error) {
      onError(error, spent());
    }
    await sleep(pause);
  }
}

export const inSeconds = (ms: number): number => Math.round(ms / 1000);
