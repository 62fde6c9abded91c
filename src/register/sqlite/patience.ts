import { setTimeout as sleep } from 'node:timers/promises';
import Database from 'better-sqlite3';
import { refuse } from '../../problem.js';

const FIRST_PAUSE_MS = 2;
const LONGEST_PAUSE_MS = 100;

const isBusy = (error: unknown): boolean =>
  error instanceof Database.SqliteError && /^SQLITE_(BUSY|LOCKED)/.test(error.code);

/**
 * Does the work, again and again while another process has the file. Between tries the program is free, so that
 * one waiting writer does not stop the desk. The work must leave nothing behind when it fails.
 */
export async function patiently<T>(work: () => T, file: string, retryForMs: number): Promise<T> {
  const began = performance.now();
  for (let pause = FIRST_PAUSE_MS; ; pause = Math.min(pause * 2, LONGEST_PAUSE_MS)) {
    try {
      return work();
    } catch (error) {
      if (!isBusy(error)) throw error;
      if (performance.now() - began > retryForMs) {
        throw refuse(
          2,
          file,
          `Another program has kept the register busy for ${Math.round(retryForMs / 1000)} s; nothing was written.`,
          'Let it finish or close it, then ask again.',
        );
      }
    }
    await sleep(pause);
  }
}
