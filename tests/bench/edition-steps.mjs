import { environmentOf } from '../../dist/app/environment.js';
import { fill } from '../../dist/app/fill.js';
import { fitEdition, fittedMarks } from '../../dist/app/fit.js';
import { blocksOf, loadsOf } from '../../dist/app/loads.js';
import { programMaker } from '../../dist/app/programs.js';
import { cutSurfaces, proofOf, runSheetOf } from '../../dist/app/scenes.js';
import { mayBeCut, select, standingsOf } from '../../dist/app/select.js';
import { checkStagedFiles, stagedFile } from '../../dist/app/staged-files.js';
import { openWorkshop } from '../../dist/app/workshop.js';
import { fileCanvas } from '../../dist/sheets/file-canvas.js';
import { writeProof } from '../../dist/sheets/proof.js';
import { writeRunSheet } from '../../dist/sheets/run-sheet.js';
import { sheetWriter } from '../../dist/sheets/sheet.js';
import { timed } from './rounds.mjs';

/** The steps of cutting an edition, called one after another and timed each. */
export async function stepsOf(dir, { edition: id, wanted, station, out }) {
  const taken = {};
  const step = async (name, work) => {
    let result;
    taken[name] = await timed(async () => {
      result = await work();
    });
    return result;
  };
  const canvas = await step('open a canvas', () => fileCanvas());
  const workshop = await step('open the workshop', () => openWorkshop(dir, environmentOf(process.env)));
  const edition = workshop.documents.editions.get(id);
  const pieces = await step('ask the register', async () => {
    const chosen = select(edition, id, wanted);
    mayBeCut(id, chosen, await standingsOf(workshop, id));
    return chosen;
  });
  const fitted = await step('fit', () => fittedMarks(fitEdition(workshop, id)));
  const { loads, surfaces, sheets } = await step('blocks, standing parts of the sheets', () => {
    const loads = loadsOf(workshop, fitted);
    const surfaces = cutSurfaces(workshop, edition, loads);
    return { loads, surfaces, sheets: surfaces.map((s) => ({ ...s, write: sheetWriter(canvas, s.scene) })) };
  });
  const makers = await step('write and read back every block', () => {
    const makers = loads.map((load) => programMaker(workshop, id, station, load));
    for (const { label } of pieces) for (const m of makers) m.program(label, blocksOf(m.load, label));
    return makers;
  });
  const files = [];
  const queues = makers.map(() => []);
  await step('set the programs', () => {
    for (const { label, number } of pieces)
      makers.forEach((m, k) => {
        const { text, minutes, check } = m.program(label, blocksOf(m.load, label));
        const path = `${number}/${k}.nc`;
        files.push({ path, text, check });
        queues[k].push({ label, file: path, minutes });
      });
  });
  await step('write the sheets', () => {
    for (const { label, number } of pieces)
      sheets.forEach((s, k) => {
        const text = s.write(
          label,
          s.marks.flatMap((m) => m.blocks(label)),
        );
        files.push({ path: `${number}/${k}.svg`, text });
      });
  });
  await step('run sheet', () => {
    const runs = makers.map((maker, k) => {
      const { scene } = surfaces.find(
        (s) => s.part === maker.load.part && s.surfaceId === maker.load.surfaceId,
      );
      return { maker, scene, pieces: queues[k] };
    });
    files.push({
      path: 'run.html',
      text: [writeRunSheet(canvas, runSheetOf(workshop, edition, station, pieces, runs))],
    });
  });
  await step('proof', () => {
    files.push({ path: 'proof.svg', text: writeProof(canvas, proofOf(workshop, edition, surfaces)) });
  });
  await step('write', () => fill(out, files[Symbol.iterator]()));
  await step('read again and hold against what was proved', async () => {
    const problems = await checkStagedFiles(out, files.map(stagedFile));
    if (problems.length > 0) throw new Error(JSON.stringify(problems));
  });
  return taken;
}
