import { spawn } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import Database from 'better-sqlite3';
import { expect, test } from 'vitest';
import { ask } from './ask.js';
import { cleanAfterEach, newFile, open } from './folder.js';
import { asking } from './life-rules.js';

const recorder = fileURLToPath(new URL('./recorder.mjs', import.meta.url));

interface Bench {
  readonly name: string;
  readonly given: number[];
  readonly errors: string;
  readonly signal: NodeJS.Signals | null;
}

/** A bench that engraves every number it can get; killed outright once it was given so many. */
const bench = (file: string, name: string, killAfter = Number.POSITIVE_INFINITY): Promise<Bench> =>
  new Promise((resolve, reject) => {
    const child = spawn(process.execPath, [recorder, file, name, '90']);
    let output = '';
    let errors = '';
    const given = () => [...output.matchAll(/^given (\d+)\n/gm)].map(([, n]) => Number(n));
    child.stdout.setEncoding('utf8').on('data', (text: string) => {
      output += text;
      if (given().length >= killAfter) child.kill('SIGKILL');
    });
    child.stderr.setEncoding('utf8').on('data', (text: string) => {
      errors += text;
    });
    child.on('error', reject);
    child.on('close', (_code, signal) => resolve({ name, given: given(), errors, signal }));
  });

/** Who engraved which number, as the file itself has it. */
const kept = (file: string) => {
  const db = new Database(file, { readonly: true });
  try {
    return db
      .prepare<[], { number: number; who: string }>("SELECT number, who FROM event WHERE type = 'engraved'")
      .all();
  } finally {
    db.close();
  }
};

/** So many benches that race for the same numbers, and so many that are killed while they record. */
export function recordingBenches({
  racing,
  kills,
}: {
  readonly racing: number;
  readonly kills: number;
}): void {
  cleanAfterEach();

  test(`${racing} benches race for ninety numbers: each is engraved once, and whoever was told so did it`, async () => {
    const file = newFile();
    const register = await open(file, undefined, () => new Date());
    await register.issue({ ...ask, count: 90 });
    const benches = await Promise.all(
      Array.from({ length: racing }, (_, i) => bench(file, `bench ${i + 1}`)),
    );
    expect(benches.map(({ errors }) => errors).join('')).toBe('');
    const all = kept(file);
    expect(all.map(({ number }) => number).sort((a, b) => a - b)).toEqual(
      Array.from({ length: 90 }, (_, i) => i + 1),
    );
    for (const { name, given } of benches) {
      expect(all.filter(({ who }) => who === name).map(({ number }) => number)).toEqual(given);
    }
    expect((await register.statuses('nine-lights')).every(({ state }) => state === 'engraved')).toBe(true);
  });

  test('a bench killed while it records: what it was told is kept, and asking again is safe', async () => {
    const file = newFile();
    const register = await open(file, undefined, () => new Date());
    await register.issue({ ...ask, count: 90 });
    for (let round = 1; round <= kills; round++) {
      const killed = await bench(file, `bench ${round}`, 3 * round);
      expect(killed.signal).toBe('SIGKILL');
      const all = kept(file).filter(({ who }) => who === killed.name);
      const numbers = all.map(({ number }) => number);
      for (const number of killed.given) expect(numbers).toContain(number);
      // At most the one it was not told of any more.
      expect(numbers.length - killed.given.length).toBeLessThanOrEqual(1);
      const last = numbers.at(-1)!;
      const of = { series: 'main', number: last, label: `${last}/90` };
      const again = { ...asking('engraved', of), by: killed.name, key: `${killed.name}-${last}` };
      expect((await register.record(again)).state).toBe('engraved');
      expect(kept(file).filter(({ number }) => number === last)).toHaveLength(1);
    }
    const db = new Database(file, { readonly: true });
    expect(db.pragma('integrity_check', { simple: true })).toBe('ok');
    db.close();
  });
}
