import { cutParts } from '../../dist/app/current-terms.js';
import { piecesByPart } from '../../dist/app/cut.js';
import { enterPrograms } from '../../dist/app/enter-programs.js';
import { fitEdition, fittedOperations } from '../../dist/app/fit.js';
import { operationPrograms } from '../../dist/app/programs.js';
import { sceneSources } from '../../dist/app/scene-sources.js';
import { checkStagedFiles, stagedFile } from '../../dist/app/staged-files.js';
import { statusesForCutting } from '../../dist/app/statuses.js';
import { openWorkshop } from '../../dist/app/workshop.js';
import { writeFiles } from '../../dist/app/write-files.js';
import { blocksOf } from '../../dist/cutting/operation.js';
import { labelIndexOf } from '../../dist/edition/label-index.js';
import { selectPieces } from '../../dist/edition/piece-selection.js';
import { cuttablePieces } from '../../dist/register/cuttable/cuttable.js';
import { blocksOnSheet, cutSurfaces, proofScene, runSheetScene } from '../../dist/sheets/edition-scenes.js';
import { fileCanvas } from '../../dist/sheets/file-canvas.js';
import { writeProof } from '../../dist/sheets/proof.js';
import { writeRunSheet } from '../../dist/sheets/run-sheet.js';
import { sheetWriter } from '../../dist/sheets/sheet.js';
import { environmentFor } from './big-edition.mjs';
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
  const workshop = await step('open the workshop', () => openWorkshop(dir, environmentFor(dir)));
  const edition = workshop.documents.editions.get(id);
  const labels = labelIndexOf(edition, id);
  const pieces = await step('ask the register', async () => {
    const chosen = selectPieces(labels, wanted);
    cuttablePieces(id, chosen, await statusesForCutting(workshop, id), {
      all: cutParts(workshop, workshop.documents.editions.get(id)),
    });
    return chosen;
  });
  const fitted = await step('fit', () => fitEdition(workshop, id));
  const sources = sceneSources(workshop, edition, labels.planned);
  const { operations, surfaces, sheets } = await step('blocks, standing parts of the sheets', () => {
    const operations = fittedOperations(fitted)(labels.planned.map(({ label }) => label));
    const surfaces = cutSurfaces(sources, operations);
    const sheets = surfaces.map((s) => ({ ...s, write: sheetWriter(canvas, s.scene) }));
    return { operations, surfaces, sheets };
  });
  const makers = await step('write and read back every block', () => {
    const makers = operations.map((operation) =>
      operationPrograms(workshop, id, station, operation, labels.planned),
    );
    for (const { label } of pieces) for (const m of makers) m.program(label, blocksOf(m.operation, label));
    return makers;
  });
  const files = [];
  const queues = makers.map(() => []);
  await step('set the programs', () => {
    for (const { label, number } of pieces)
      makers.forEach((m, k) => {
        const { text, minutes, check } = m.program(label, blocksOf(m.operation, label));
        const path = `${number}/${k}.nc`;
        files.push({ path, text, check });
        queues[k].push({ label, file: path, minutes });
      });
  });
  await step('write the sheets', () => {
    for (const { label, number } of pieces)
      sheets.forEach((s, k) => {
        const text = s.write(label, blocksOnSheet(s.marks, label));
        files.push({ path: `${number}/${k}.svg`, text });
      });
  });
  await step('run sheet', () => {
    const runs = makers.map(({ operation, setup }, k) => {
      const { scene } = surfaces.find(
        (s) => s.part === operation.part && s.surfaceId === operation.surfaceId,
      );
      return { operation, setup, scene, pieces: queues[k] };
    });
    const setUp = workshop.documents.stations.get(station);
    files.push({
      path: 'run.html',
      text: [writeRunSheet(canvas, runSheetScene(sources, setUp, pieces, runs))],
    });
  });
  await step('proof', () => {
    files.push({ path: 'proof.svg', text: writeProof(canvas, proofScene(sources, surfaces)) });
  });
  await step('write', () => writeFiles(out, files[Symbol.iterator]()));
  await step('read again and hold against what was proved', async () => {
    const { problems } = await checkStagedFiles(out, files.map(stagedFile));
    if (problems.length > 0) throw new Error(JSON.stringify(problems));
  });
  await step('enter the programs in the register', () => {
    const cut = operations.map((operation) => ({ operation, pieces: pieces.map((piece) => ({ piece })) }));
    const made = piecesByPart(cut);
    return enterPrograms(workshop, { edition: id, station }, edition, made, () => undefined);
  });
  return taken;
}
