import { setTimeout as sleep } from 'node:timers/promises';

/** Long enough for any machine; only a fault takes as long. */
const LONGEST_MS = 120_000;

/** Waits until something is so, and says what it waited for when that never comes. */
export async function until(what: string, isSo: () => Promise<boolean>): Promise<void> {
  const end = performance.now() + LONGEST_MS;
  while (!(await isSo())) {
    if (performance.now() > end) throw new Error(`waited in vain until ${what}`);
    await sleep(5);
  }
}
