import { fitEdition, fittedOperations } from '../../dist/app/fit.js';
import { sceneSources } from '../../dist/app/scene-sources.js';
import { openWorkshop } from '../../dist/app/workshop.js';
import { plannedNumbers } from '../../dist/edition/labels.js';
import { blocksOnSheet, cutSurfaces } from '../../dist/sheets/edition-scenes.js';
import { fileCanvas } from '../../dist/sheets/file-canvas.js';
import { sheetWriter, writeSheet } from '../../dist/sheets/sheet.js';
import { bigEdition, EDITION, environmentFor } from './big-edition.mjs';
import { inRounds, median, spread } from './rounds.mjs';

const PIECES = 100;

export const title = `${PIECES * 2} sheets, each drawn by itself, against one drawing a surface with its slots filled`;

export async function measure({ rounds }) {
  const place = await bigEdition(PIECES);
  try {
    const workshop = await openWorkshop(place.workshop, environmentFor(place.workshop));
    const edition = workshop.documents.editions.get(EDITION);
    const numbers = plannedNumbers(edition);
    const labels = numbers.map((n) => n.label);
    const operations = fittedOperations(fitEdition(workshop, EDITION))(labels);
    const surfaces = cutSurfaces(sceneSources(workshop, edition, numbers), operations);
    const canvas = await fileCanvas();
    const blocksOf = (surface, label) => blocksOnSheet(surface.marks, label);
    const drawn = () => {
      for (const s of surfaces)
        for (const label of labels) writeSheet(canvas, s.scene, label, blocksOf(s, label));
    };
    const filled = () => {
      for (const s of surfaces) {
        const write = sheetWriter(canvas, s.scene);
        for (const label of labels) write(label, blocksOf(s, label));
      }
    };
    const times = await inRounds({ drawn, filled }, rounds, async () => {});
    return [
      [
        { side: 'each drawn by itself', ...spread(times.drawn) },
        { side: 'drawn once and filled in', ...spread(times.filled) },
      ],
      `Ratio of the medians: ${(median(times.drawn) / median(times.filled)).toFixed(1)}`,
    ];
  } finally {
    await place.clear();
  }
}
