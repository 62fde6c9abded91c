import { execFile } from 'node:child_process';
import { mkdir, readdir, readFile, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { promisify } from 'node:util';
import opentype from 'opentype.js';
import { cutEdition } from '../../dist/app/cut.js';
import { openWorkshop } from '../../dist/app/workshop.js';
import { fontBytes, readCarriedFonts } from '../../dist/documents/carried-fonts.js';
import { plannedNumbers } from '../../dist/edition/labels.js';
import { bigEdition, EDITION, environmentFor, order } from './big-edition.mjs';
import { stepsOf } from './edition-steps.mjs';
import { inRounds, median, spread, timed } from './rounds.mjs';

const PIECES = 1000;

export const title = `${PIECES} pieces cut to disk, against drawing their labels and writing the same bytes`;

const SIDES = `burin      opens the workshop, asks the register, fits all labels together, writes and reads back every block,
           sets ${PIECES * 2} programs and ${PIECES * 2} true-size sheets, the run sheet and the proof, writes all beside the output
           folder, reads every file again, enters the programs in the register and moves all into place. Each turn finds
           the register as it was before the first cut.
reference  reads and parses one outline font (cormorant), once; for each of ${PIECES} pieces has opentype.js make the
           path data of the number and of both inscriptions; then writes the very bytes burin wrote, held in memory
           beforehand, one file after another into folders made as needed. It fits, places, proves and sets nothing.
The disk is told to settle (sync) before each turn, outside the timing. Each turn writes into a folder of its own, and
nothing is removed before the end: for minutes ext4 gives no new file the place of a deleted one, and passes over all of
them each time. Needs 4 GB of disk.`;

/** `pieces`: fewer show that it runs; they say nothing. */
export async function measure({ rounds, pieces = PIECES }) {
  const place = await bigEdition(pieces);
  try {
    const { workshop, out } = place;
    let turn = 0;
    const burin = async () => {
      await cutEdition(await openWorkshop(workshop, environmentFor(workshop)), order(`${out}-${turn}`));
    };
    await burin();
    const files = await allFiles(`${out}-${turn}`);
    const texts = await textsOf(workshop);
    const parts = { outlines: [], write: [] };
    const reference = async () => {
      parts.outlines.push(await timed(() => outlines(workshop, texts)));
      parts.write.push(await timed(() => writeAll(join(place.dir, `copy-${turn}`), files)));
    };
    const settle = async () => {
      turn++;
      await place.begin();
      await promisify(execFile)('sync');
    };
    const times = await inRounds({ burin, reference }, rounds, settle);
    const ratios = times.burin.map((ms, k) => ms / times.reference[k]);
    const steps = [];
    for (let k = 0; k <= rounds; k++) {
      await settle();
      const taken = await stepsOf(workshop, order(`${out}-${turn}`));
      if (k > 0) steps.push(taken);
    }
    const bytes = files.reduce((sum, f) => sum + f.bytes.length, 0);
    return [
      SIDES,
      `${files.length} files, ${(bytes / 1e6).toFixed(0)} MB, ${rounds} rounds, ms:`,
      [
        { side: 'burin', ...spread(times.burin) },
        { side: 'reference', ...spread(times.reference) },
        { side: '  its outlines', ...spread(parts.outlines.slice(1)) },
        { side: '  its writing', ...spread(parts.write.slice(1)) },
        { side: 'burin / reference', ...spread(ratios, 2) },
      ],
      `Ratio of the medians: ${(median(times.burin) / median(times.reference)).toFixed(2)}`,
      'The steps of burin one after another, ms (in the job itself, writing goes on while the next files are set):',
      Object.keys(steps[0]).map((step) => ({ step, ...spread(steps.map((s) => s[step])) })),
    ];
  } finally {
    await place.clear();
  }
}

async function allFiles(dir) {
  const entries = await readdir(dir, { recursive: true, withFileTypes: true });
  return Promise.all(
    entries
      .filter((e) => e.isFile())
      .map(async (e) => {
        const file = join(e.parentPath, e.name);
        return { path: file.slice(dir.length + 1), bytes: await readFile(file) };
      }),
  );
}

/** What stands on each piece: its number, then the inscriptions. */
async function textsOf(workshop) {
  const { documents } = await openWorkshop(workshop, environmentFor(workshop));
  const edition = documents.editions.get(EDITION);
  const marks = edition.designs.flatMap((id) => documents.designs.get(id).marks);
  const inscriptions = marks.filter((m) => m.kind === 'inscription').map((m) => m.text);
  return plannedNumbers(edition).map(({ label }) => [label, ...inscriptions]);
}

async function outlines(workshop, texts) {
  const { bytes } = await fontBytes('cormorant', {
    carried: readCarriedFonts(),
    workshopDir: workshop,
    ownFonts: {},
  });
  const font = opentype.parse(Uint8Array.from(bytes).buffer);
  let length = 0;
  for (const piece of texts)
    for (const text of piece) length += font.getPath(text, 0, 0, 10).toPathData(4).length;
  if (length < texts.length) throw new Error('no outlines were made');
}

async function writeAll(dir, files) {
  const made = new Set();
  for (const { path, bytes } of files) {
    const file = join(dir, path);
    const folder = dirname(file);
    if (!made.has(folder)) {
      await mkdir(folder, { recursive: true });
      made.add(folder);
    }
    await writeFile(file, bytes);
  }
}
