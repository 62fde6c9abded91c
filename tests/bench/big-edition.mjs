import { cp, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parse, stringify } from 'yaml';
import { environmentOf } from '../../dist/app/environment.js';
import { issueNumbers } from '../../dist/app/issue.js';
import { openWorkshop } from '../../dist/app/workshop.js';
import { newWorkshop } from '../../dist/app/workshop-folder.js';

export const EDITION = 'nine-lights';
export const STATION = 'rotary-level';

/**
 * Nine Lights with one series of so many pieces, in a folder of its own below the system's folder for temporary
 * files, every number issued. `mend` may change the documents of the number mark's design.
 */
export async function bigEdition(pieces, mend = () => {}) {
  const dir = await mkdtemp(join(tmpdir(), 'burin-bench-'));
  const workshop = join(dir, 'workshop');
  await newWorkshop(workshop, EDITION);
  await mended(join(workshop, 'editions', `${EDITION}.yaml`), (edition) => {
    const pad = Math.max(4, String(pieces).length);
    edition.series = [
      { id: 'main', title: 'Numbered edition', from: 1, to: pieces, pad, total: { joiner: '/' } },
    ];
  });
  await mended(join(workshop, 'designs', 'cap-number.yaml'), mend);
  await mended(join(workshop, 'designs', 'barrel-title.yaml'), traced);
  const opened = await openWorkshop(workshop, environmentFor(workshop));
  await issueNumbers(opened, { edition: EDITION, series: 'main', count: pieces, by: 'E. Marrow' });
  return {
    dir,
    workshop,
    out: join(dir, 'out'),
    begin: await keepBeginning(dir, workshop),
    clear: () => rm(dir, { recursive: true, force: true }),
  };
}

/** Gives what puts the register, and what this machine remembers of it, back to before the first cut. */
async function keepBeginning(dir, workshop) {
  const kept = join(dir, 'beginning');
  const register = join(workshop, 'register.db');
  const { keysFolder } = environmentFor(workshop);
  await cp(register, join(kept, 'register.db'));
  await cp(keysFolder, join(kept, 'keys'), { recursive: true });
  return async () => {
    for (const left of ['', '-wal', '-shm']) await rm(`${register}${left}`, { force: true });
    await cp(join(kept, 'register.db'), register);
    await rm(keysFolder, { recursive: true, force: true });
    await cp(join(kept, 'keys'), keysFolder, { recursive: true });
  };
}

/** Keys and memory beside the workshop, and not those of whoever measures. */
export const environmentFor = (workshop) => ({
  ...environmentOf({ ...process.env, BURIN_REGISTER: undefined }),
  keysFolder: join(workshop, '..', 'keys'),
});

/** The title as outlines: a groove costs the same for one piece as for thousands, and has a figure of its own. */
function traced({ marks: [title, maker] }) {
  Object.assign(title, { font: 'cormorant', depth: 0.08, way: 'trace' });
  for (const mark of [title, maker]) delete mark.land;
}

async function mended(file, change) {
  const document = parse(await readFile(file, 'utf8'));
  change(document);
  await writeFile(file, stringify(document));
}

export const order = (out) => ({
  edition: EDITION,
  wanted: { series: 'main' },
  station: STATION,
  out,
});
