import type { CutBlock } from '../cutting/cuts.js';
import { isLettered } from '../documents/schema/design.js';
import type { Edition } from '../documents/schema/edition.js';
import { type Numbered, planned } from '../edition/labels.js';
import type { TextDirection } from '../layout/place.js';
import { formatCount } from '../sheets/number-format.js';
import type { ProofScene, ProofSurface } from '../sheets/proof.js';
import type { RunOperation, RunPiece, RunSheet } from '../sheets/run-sheet.js';
import type { SheetScene } from '../sheets/sheet.js';
import { cutWidths, type SheetDesign, type SheetMark } from '../sheets/title-block.js';
import type { TurnedScene } from '../sheets/turned-view.js';
import { chooseViewAngle } from '../sheets/view-angle.js';
import type { FittedMark } from './fit.js';
import type { Load, MarkBlocks } from './loads.js';
import type { ProgramMaker } from './programs.js';
import type { Workshop } from './workshop.js';

/** One surface of the edition with every load cut on it. */
export interface CutSurface {
  readonly part: string;
  readonly surfaceId: string;
  readonly marks: readonly MarkBlocks[];
  readonly scene: SheetScene;
}

/** The surfaces that an edition cuts, in the order of its loads, each with what its pictures show. */
export function cutSurfaces(workshop: Workshop, edition: Edition, loads: readonly Load[]): CutSurface[] {
  const groups = new Map<string, MarkBlocks[]>();
  for (const load of loads) {
    const key = `${load.part} ${load.surfaceId}`;
    groups.set(key, [...(groups.get(key) ?? []), ...load.marks]);
  }
  const labels = planned(edition).map((n) => n.label);
  return [...groups.values()].map((marks) => {
    const { part, partId, surface, obstacles } = marks[0]!.fitted.of;
    const viewAngle = chooseViewAngle(surface, obstacles, distinctBlocks(marks, labels));
    const scene: SheetScene = {
      part,
      surface,
      obstacles,
      viewAngle,
      bench: workshop.documents.workshop.name,
      edition: edition.name,
      designs: designsOf(
        workshop,
        marks.map((m) => m.fitted.of.designId),
      ),
      marks: marks.map((m) => sheetMark(workshop, m.fitted)),
    };
    return { part: partId, surfaceId: surface.id, marks, scene };
  });
}

function distinctBlocks(marks: readonly MarkBlocks[], labels: readonly string[]): CutBlock[] {
  const seen = new Map<string, CutBlock>();
  for (const mark of marks)
    for (const label of labels) for (const block of mark.blocks(label)) seen.set(block.key, block);
  return [...seen.values()];
}

const designsOf = (workshop: Workshop, ids: readonly string[]): SheetDesign[] =>
  [...new Set(ids)].map((id) => ({
    name: workshop.documents.designs.get(id)!.name,
    digest: workshop.digests.get(`design/${id}`)!,
  }));

function sheetMark(workshop: Workshop, { mark, of, sizes, minFeatures }: FittedMark): SheetMark {
  const cutter = workshop.documents.cutters.get(mark.cutter)!.name;
  const height = sizes
    ? { sizes, sizeOf: isLettered(mark) ? ('capitals' as const) : ('drawing' as const) }
    : {};
  const tooClose = [...new Set(minFeatures.map((c) => `${c.name}${c.second ?? ''}`))];
  return {
    mark: mark.id,
    name: mark.id,
    ...height,
    depth: mark.depth,
    cutter,
    cutWidth: of.cutWidth,
    strategy: 'way' in mark ? mark.way : 'trace',
    tooClose,
  };
}

/** What the proof of the whole edition shows: every planned label, issued or not. */
export function proofOf(workshop: Workshop, edition: Edition, surfaces: readonly CutSurface[]): ProofScene {
  const all = planned(edition);
  const number = surfaces.flatMap((s) => s.marks).find((m) => m.fitted.mark.kind === 'number');
  const widest = number ? widestLabel(number.fitted, all) : all[0]!.label;
  return {
    bench: workshop.documents.workshop.name,
    edition: edition.name,
    designs: designsOf(workshop, edition.designs),
    surfaces: surfaces.map((s): ProofSurface => {
      const numbered = s.marks.some((m) => differs(m));
      const labels = numbered ? all.map((n) => n.label) : [widest];
      const pieces = labels.map((label) => ({ label, blocks: s.marks.flatMap((m) => [...m.blocks(label)]) }));
      return { ...s.scene, pieces, widest };
    }),
    series: number
      ? edition.series.map((series) => ({
          title: series.title,
          surface: number.fitted.of.surface,
          lie: lieOf(number.fitted),
          cutWidth: number.fitted.of.cutWidth,
          numbers: all
            .filter((n) => n.series === series.id)
            .map(({ label }) => ({ label, blocks: number.blocks(label) })),
        }))
      : [],
  };
}

/** Whether a mark differs from piece to piece. */
const differs = ({ fitted: { mark } }: MarkBlocks): boolean =>
  mark.kind === 'number' || mark.kind === 'dedication';

/** The baseline and reading direction of a mark; a drawing that repeats round the ring is upright. */
export const lieOf = ({ of }: FittedMark): TextDirection =>
  of.kind === 'line' ? of.mark : { baseline: 'ring', reading: 'up' };

function widestLabel(number: FittedMark, all: readonly Numbered[]): string {
  let widest = '';
  let width = -1;
  for (const { label } of all) {
    const across = number.setting(label)?.line.width ?? 0;
    if (across <= width) continue;
    widest = label;
    width = across;
  }
  return widest;
}

/** Every part that the edition cuts, as it looks on one finished piece. */
export function turnedScenes(
  edition: Edition,
  surfaces: readonly CutSurface[],
  label: string,
): { readonly part: string; readonly scene: TurnedScene }[] {
  const parts = [...new Set(surfaces.map((s) => s.part))];
  return parts.map((id) => {
    const own = surfaces.filter((s) => s.part === id);
    const { part } = own[0]!.scene;
    const cut = own.map((s) => ({
      surface: s.scene.surface,
      blocks: s.marks.flatMap((m) => [...m.blocks(label)]),
      widths: cutWidths(s.scene.marks),
    }));
    return { part: id, scene: { title: `${edition.name}, ${part.name}`, label, part, surfaces: cut } };
  });
}

export interface LoadRun {
  readonly maker: ProgramMaker;
  readonly scene: SheetScene;
  readonly pieces: readonly RunPiece[];
}

/** What the run sheet of a job shows. */
export function runSheetOf(
  workshop: Workshop,
  edition: Edition,
  stationId: string,
  wanted: readonly Numbered[],
  runs: readonly LoadRun[],
): RunSheet {
  const first = wanted[0]!.label;
  return {
    bench: workshop.documents.workshop.name,
    edition: edition.name,
    job:
      wanted.length === 1
        ? first
        : `${formatCount(wanted.length, 'piece')}, ${first} to ${wanted[wanted.length - 1]!.label}`,
    station: workshop.documents.stations.get(stationId)!,
    designs: designsOf(workshop, edition.designs),
    operations: runs.map(({ maker, scene, pieces }): RunOperation => {
      const { load, setup } = maker;
      return {
        ...scene,
        material: workshop.documents.materials.get(scene.part.material)!,
        cutter: workshop.documents.cutters.get(load.cutter)!,
        marks: load.marks.map((m) => ({ ...sheetMark(workshop, m.fitted), passes: m.passes })),
        feed: setup.feed,
        plunge: setup.plunge,
        speed: setup.speed,
        numbered: load.marks.some(differs),
        example: { label: first, blocks: load.marks.flatMap((m) => [...m.blocks(first)]) },
        pieces,
      };
    }),
  };
}
