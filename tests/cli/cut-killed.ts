import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { expect } from 'vitest';
import { started, well } from './burin.js';
import { filesIn, hashes, newFolder, newQuickBench } from './folders.js';

const LABELS = ['01/90', '02/90'];
const PIECES = ['main-0001', 'main-0002'];

/** The least that a piece's folder must hold to be of use at the bench. */
const WHOLE = ['barrel-taper-cone-40.nc', 'barrel-taper.svg', 'cap-body-drag-12.nc', 'cap-body.svg'];

/** How many files a cut of both pieces gathers in its hidden folder before that is put in place, with the mark of the folder. */
export const GATHERED = LABELS.length * WHOLE.length + 5;

const cut = (out: string) => [
  ...['cut', 'nine-lights', '--station', 'rotary-level', '--out', out, '--labels', ...LABELS],
];

/**
 * Starts a cut, and kills it outright once so many files stand in its hidden folder; beyond all of them, so many looks
 * later, as they are put in place. Gives whether it was killed.
 */
async function killedAt(bench: string, out: string, moment: number): Promise<boolean> {
  const place = path.dirname(out);
  const before = new Set(readdirSync(place));
  let looking: NodeJS.Timeout | undefined;
  let later = Math.max(0, moment - GATHERED);
  let begun = false;
  const said = await started(cut(out), {
    cwd: bench,
    begun: (kill) => {
      looking = setInterval(() => {
        begun ||= gathered(place, before) >= Math.min(moment, GATHERED);
        if (begun && later-- <= 0) kill();
      }, 1);
    },
  });
  clearInterval(looking);
  return said.signal === 'SIGKILL';
}

/** The files in the hidden folder that has come since; -1 where there is none, or it went while it was read. */
function gathered(place: string, before: ReadonlySet<string>): number {
  const hidden = readdirSync(place).find((f) => f.endsWith('.partial') && !before.has(f));
  if (hidden === undefined) return -1;
  try {
    return filesIn(path.join(place, hidden)).length;
  } catch {
    return -1;
  }
}

/**
 * Kills cuts at these moments, each told by the files gathered, over a folder with nothing in it and over one with a
 * whole cut in turn. No half folder is to be seen, and the next run clears up.
 */
export async function killCuts(moments: readonly number[]): Promise<void> {
  const bench = newQuickBench();
  await well(['issue', 'nine-lights', '--series', 'main', '--count', '2', '--by', 'E. Marrow'], {
    cwd: bench,
  });
  const place = newFolder();
  const [fresh, kept] = [path.join(place, 'out'), path.join(place, 'kept')];
  await well(cut(kept), { cwd: bench });
  let killed = 0;
  for (const [round, moment] of moments.entries()) {
    const out = round % 2 === 0 ? fresh : kept;
    if (await killedAt(bench, out, moment)) killed++;
    const seen = filesIn(out);
    if (seen.length === 0 && out === fresh) continue;
    for (const piece of PIECES) {
      const own = seen.filter((f) => f.startsWith(`${piece}/`)).map((f) => f.slice(piece.length + 1));
      if (own.length > 0) expect(own, `killed at moment ${moment}`).toEqual(WHOLE);
    }
    for (const file of seen) expect(readFileSync(path.join(out, file)).length, file).toBeGreaterThan(500);
  }
  // A cut that was quicker than the one who watches it is not killed; most are.
  expect(killed).toBeGreaterThanOrEqual(moments.length / 2);
  for (const out of [fresh, kept]) await well(cut(out), { cwd: bench });
  expect(hashes(fresh)).toEqual(hashes(kept));
  expect(filesIn(place).filter((f) => f.startsWith('.'))).toEqual([]);
}
