import { refuse } from '../messages.js';
import { inSeconds, withRetry } from '../retry.js';
import { isBusy, toRefusal } from './errors.js';

/** Tries again while another process has the file; every other error is reported in words. */
export const retryWhileBusy = <T>(work: () => Promise<T>, file: string, retryForMs: number): Promise<T> =>
  withRetry(work, {
    firstPauseMs: 2,
    longestPauseMs: 100,
    onError: (error, spentMs) => {
      if (!isBusy(error)) throw toRefusal(error, file);
      if (spentMs > retryForMs) throw refuse('register.busy', file, { seconds: inSeconds(retryForMs) });
    },
  });
