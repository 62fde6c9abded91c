import {
  appendFileSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  symlinkSync,
  truncateSync,
  writeFileSync,
} from 'node:fs';
import { cp } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { cutJob, writePrograms, writeSheets } from '../../src/app/cut.js';
import { stage } from '../../src/app/staging.js';
import type { Workshop } from '../../src/app/workshop.js';
import type { FileToWrite } from '../../src/app/write-files.js';
import { labelIndexOf } from '../../src/edition/label-index.js';
import { selectPieces } from '../../src/edition/piece-selection.js';
import { fileCanvas } from '../../src/sheets/file-canvas.js';
import type { Canvas } from '../../src/sheets/svg-canvas.js';
import { newFolder, newWorkshopCopy, refusalOf, removeFolders } from './workshop.js';

/** Two pieces of the sample edition on a station, as they are written before anything is put in place. */
const EDITION = 'nine-lights';
const PIECES = { series: 'main', numbers: '1-2' };
const FILES = 12;

let workshop: Workshop;
let canvas: Canvas;
beforeAll(async () => {
  canvas = await fileCanvas();
  workshop = await newWorkshopCopy();
});
afterAll(removeFolders);

const jobs = new Map<string, readonly FileToWrite[]>();
/** The files of the job on a station; made once. */
function filesOf(station: string): Iterator<FileToWrite, void> & Iterable<FileToWrite> {
  const edition = workshop.documents.editions.get(EDITION)!;
  const labels = labelIndexOf(edition, EDITION);
  const wanted = selectPieces(labels, PIECES);
  const job = { edition, id: EDITION, planned: labels.planned, station, wanted };
  const write = function* () {
    const cut = cutJob(workshop, job);
    const runs = yield* writePrograms(workshop, job, cut);
    yield* writeSheets(canvas, workshop, job, cut, runs);
  };
  const known = jobs.get(station) ?? [...write()];
  jobs.set(station, known);
  return known.values();
}

/** Writes a job, lets `change` at the hidden folder, and tries to put it in place. */
async function published(change: (dir: string) => unknown, station = 'rotary-level') {
  const out = join(newFolder(), 'out');
  const staging = await stage(out);
  await staging.writeFiles(filesOf(station));
  const name = readdirSync(dirname(out)).find((f) => f.endsWith('.partial'))!;
  const hidden = join(dirname(out), name);
  await change(hidden);
  return { out, hidden, staging, done: staging.publish() };
}

const FIRST = 'main-0001/cap-body-drag-12.nc';
const SECOND = 'main-0002/cap-body-drag-12.nc';
const SHEET = 'main-0001/cap-body.svg';

/** A change of the text of one file. */
const edit = (path: string, make: (text: string) => string) => (dir: string) => {
  const file = join(dir, path);
  const before = readFileSync(file, 'latin1');
  const after = make(before);
  expect(after, 'the change must change something').not.toBe(before);
  writeFileSync(file, after, 'latin1');
};

/** The text of a program in its blocks, with what stands before and after. */
function parts(text: string): { before: string; blocks: string[]; after: string } {
  const pieces = text.split(/(?=^\(cut: )/m);
  const last = pieces.at(-1)!;
  const end = last.lastIndexOf('\nG0 Z');
  const cut = last.indexOf('\n', end + 1) + 1;
  return {
    before: pieces[0]!,
    blocks: [...pieces.slice(1, -1), last.slice(0, cut)],
    after: last.slice(cut),
  };
}

const editBlocks = (make: (blocks: string[]) => string[], path = FIRST) =>
  edit(path, (text) => {
    const { before, blocks, after } = parts(text);
    expect(blocks.length).toBeGreaterThan(2);
    return before + make(blocks).join('') + after;
  });

const copy = (from: string, to: string) => (dir: string) => cp(join(dir, from), join(dir, to));

const changes: Readonly<Record<string, (dir: string) => unknown>> = {
  'one bit of a figure': edit(FIRST, (t) => t.replace(/(X-?\d+\.\d)(\d)/, (_, x, d) => x + (Number(d) ^ 1))),
  'a sign turned round': edit(FIRST, (t) => t.replace(/ A(\d)/, ' A-$1')),
  'a feed ten times as fast': edit(FIRST, (t) => t.replace(/F(\d+)\./, 'F$10.')),
  'the last byte missing': (dir) => truncateSync(join(dir, FIRST), readFileSync(join(dir, FIRST)).length - 1),
  'the last line missing': edit(FIRST, (t) => t.replace(/M2\n$/, '')),
  'cut off in the middle': (dir) => truncateSync(join(dir, FIRST), 900),
  'an empty file': (dir) => truncateSync(join(dir, FIRST), 0),
  'two blocks swapped': editBlocks(([a, b, ...rest]) => [b!, a!, ...rest]),
  'a block dropped': editBlocks(([a, , ...rest]) => [a!, ...rest]),
  'the first block dropped': editBlocks(([, ...rest]) => rest),
  'the last block dropped': editBlocks((all) => all.slice(0, -1)),
  'every block dropped': editBlocks(() => []),
  'a block twice': editBlocks(([a, ...rest]) => [a!, a!, ...rest]),
  'the last block twice': editBlocks((all) => [...all, all.at(-1)!]),
  'a move between two blocks': editBlocks(([a, ...rest]) => [a!, 'G0 X0.0000\n', ...rest]),
  'a comment between two blocks': editBlocks(([a, ...rest]) => [a!, '(cut: nothing)\n', ...rest]),
  'an empty line between two blocks': editBlocks(([a, ...rest]) => [a!, '\n', ...rest]),
  'the spindle stopped between two blocks': editBlocks(([a, ...rest]) => [a!, 'M5\n', ...rest]),
  'units changed between two blocks': editBlocks(([a, ...rest]) => [a!, 'G20\n', ...rest]),
  "the other piece's program": copy(SECOND, FIRST),
  'a program of the other surface': copy('main-0001/barrel-taper-cone-40.nc', FIRST),
  'the label of the other piece': edit(FIRST, (t) => t.replace('(label: 01/90)', '(label: 02/90)')),
  'the edition of another': edit(FIRST, (t) => t.replace('(edition: nine', '(edition: ten')),
  'the digest of another design': edit(FIRST, (t) => t.replace(/\(design: ./, '(design: x')),
  'the part of another': edit(FIRST, (t) => t.replace('(part: cap', '(part: cup')),
  'the surface of another': edit(FIRST, (t) => t.replace('(surface: ', '(surface: x')),
  'another cutter': edit(FIRST, (t) => t.replace('(cutter: ', '(cutter: x')),
  'another set-up': edit(FIRST, (t) => t.replace('(set-up: level', '(set-up: tilted')),
  'a line of the head missing': edit(FIRST, (t) => t.replace(/\(part: .*\n/, '')),
  'two lines of the head swapped': edit(FIRST, (t) => t.replace(/(\(part: .*\n)(\(surface: .*\n)/, '$2$1')),
  'line endings of another system': edit(FIRST, (t) => t.replaceAll('\n', '\r\n')),
  'a byte order mark': edit(FIRST, (t) => `\u00ef\u00bb\u00bf${t}`),
  'lines after the end': (dir) => appendFileSync(join(dir, FIRST), 'G0 X0.0000\n'),
  'a line feed after the end': (dir) => appendFileSync(join(dir, FIRST), '\n'),
  'a byte of nothing after the end': (dir) => appendFileSync(join(dir, FIRST), '\0'),
  'feed per minute': edit(FIRST, (t) => t.replace('G93', 'G94')),
  inches: edit(FIRST, (t) => t.replace('G21', 'G20')),
  'distances from where it stands': edit(FIRST, (t) => t.replace('G90', 'G91')),
  'another safe height at the start': edit(FIRST, (t) => t.replace(/^G0 Z\d/m, 'G0 Z0')),
  'M5 missing': edit('main-0001/barrel-taper-cone-40.nc', (t) => t.replace('M5\n', '')),
  'another spindle speed': edit('main-0001/barrel-taper-cone-40.nc', (t) => t.replace(/M3 S\d/, 'M3 S9')),
  'the sheet of the other piece': copy('main-0002/cap-body.svg', SHEET),
  'one character of a sheet': edit(SHEET, (t) => t.replace('mm"', 'in"')),
  'a sheet with a line after its end': (dir) => appendFileSync(join(dir, SHEET), '\n'),
  'a sheet cut off': (dir) => truncateSync(join(dir, SHEET), 2000),
  'one character of the run sheet': edit('run-sheet.html', (t) => t.replace('01/90', '07/90')),
  'one character of the proof': edit('proof.svg', (t) => t.replace('mm"', 'in"')),
  'one character of the turned view': edit('turned-cap.svg', (t) => t.replace('mm"', 'in"')),
  'a program missing': (dir) => rmSync(join(dir, FIRST)),
  'a whole piece missing': (dir) => rmSync(join(dir, 'main-0002'), { recursive: true }),
  'a program under another name': (dir) => renameSync(join(dir, FIRST), join(dir, `${FIRST}.old`)),
  'one file more': (dir) => writeFileSync(join(dir, 'main-0001/more.nc'), 'M2\n'),
  'one piece more': (dir) => {
    mkdirSync(join(dir, 'main-0003'));
    writeFileSync(join(dir, 'main-0003/cap-body-drag-12.nc'), 'M2\n');
  },
  'two pieces swapped': (dir) => {
    renameSync(join(dir, 'main-0001'), join(dir, 'x'));
    renameSync(join(dir, 'main-0002'), join(dir, 'main-0001'));
    renameSync(join(dir, 'x'), join(dir, 'main-0002'));
  },
  'a link to the same bytes': (dir) => {
    renameSync(join(dir, FIRST), join(dir, '../elsewhere.nc'));
    symlinkSync('../../elsewhere.nc', join(dir, FIRST));
  },
  'a folder in the place of a program': (dir) => {
    rmSync(join(dir, FIRST));
    mkdirSync(join(dir, FIRST));
  },
};

describe('bytes on disk that are changed before they are put in place', () => {
  test('there are more than 30 kinds', () => {
    expect(Object.keys(changes).length).toBeGreaterThan(30);
  });

  test.each(Object.entries(changes))('%s: refused, and nothing stands under its name', async (_, change) => {
    const { out, hidden, staging, done } = await published(change);
    const { exit, problems } = await refusalOf(done);
    expect(exit).toBe(1);
    expect(problems.length).toBeGreaterThan(0);
    for (const { code } of problems) expect(code).toMatch(/^(app\.staged-file|station\.file)-/);
    expect(existsSync(out)).toBe(false);
    await staging.discard();
    expect(existsSync(hidden)).toBe(false);
  });

  test('the programs of another station are refused', async () => {
    const other = await published(() => undefined, 'rotary-tilted');
    await other.done;
    const { done } = await published((dir) => cp(join(other.out, FIRST), join(dir, FIRST)));
    expect((await refusalOf(done)).problems.map((p) => p.code)).toEqual(['station.file-head-differs']);
  });

  test('an output that is there stays as it was', async () => {
    const { out, done } = await published(() => undefined);
    await done;
    const before = readFileSync(join(out, FIRST));
    const staging = await stage(out);
    await staging.writeFiles(filesOf('rotary-level'));
    const hidden = readdirSync(dirname(out)).find((f) => f.endsWith('.partial'))!;
    edit(FIRST, (t) => t.replace('M2', 'M0'))(join(dirname(out), hidden));
    await refusalOf(staging.publish());
    expect(readFileSync(join(out, FIRST))).toEqual(before);
    await staging.discard();
  });

  test('what nobody changed is put in place, with the bytes that were written', async () => {
    const { out, hidden, done } = await published(() => undefined);
    await done;
    expect(existsSync(hidden)).toBe(false);
    const files = readdirSync(out, { recursive: true, withFileTypes: true }).filter((e) => e.isFile());
    // With the list of them.
    expect(files.length).toBe(FILES + 1);
    for (const { path, text } of filesOf('rotary-level'))
      expect(
        readFileSync(join(out, path)).equals(Buffer.concat(Array.from(text, (c) => Buffer.from(c)))),
      ).toBe(true);
  });
});
