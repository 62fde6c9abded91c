import type { CutBlock } from '../cutting/cuts.js';
import type { MarkBlocks, Operation } from '../cutting/operation.js';
import type { Cutter } from '../documents/schema/cutter.js';
import { isLettered } from '../documents/schema/design.js';
import type { Edition } from '../documents/schema/edition.js';
import type { Material } from '../documents/schema/material.js';
import type { Station } from '../documents/schema/station.js';
import type { Numbered } from '../edition/labels.js';
import { textDirectionOf } from '../layout/mark-to-fit.js';
import type { MachineSetup } from '../station/machine-setup.js';
import type { ProofScene, ProofSurface } from './proof.js';
import { formatCount } from './readable-numbers.js';
import type { RunOperation, RunPiece, RunSheet } from './run-sheet.js';
import type { SheetScene } from './sheet.js';
import { cutWidths, type SheetDesign, type SheetMark } from './title-block.js';
import type { TurnedScene } from './turned-view.js';
import { chooseViewAngle } from './view-angle.js';

/** What the pictures of an edition take from its documents. */
export interface SceneSources {
  /** The bench, as it appears on sheets. */
  readonly bench: string;
  readonly edition: Edition;
  /** Every label the edition plans, issued or not. */
  readonly planned: readonly Numbered[];
  /** By id. */
  readonly designs: ReadonlyMap<string, SheetDesign>;
  readonly cutters: ReadonlyMap<string, Cutter>;
  readonly materials: ReadonlyMap<string, Material>;
}

/** One surface of the edition with every mark cut on it. */
export interface CutSurface {
  readonly part: string;
  readonly surfaceId: string;
  readonly marks: readonly MarkBlocks[];
  readonly scene: SheetScene;
}

/** The surfaces that an edition cuts, in the order of its operations, each with what its pictures show. */
export function cutSurfaces(sources: SceneSources, operations: readonly Operation[]): CutSurface[] {
  const { bench, edition, planned } = sources;
  const groups = new Map<string, MarkBlocks[]>();
  for (const operation of operations) {
    const key = `${operation.part} ${operation.surfaceId}`;
    groups.set(key, [...(groups.get(key) ?? []), ...operation.marks]);
  }
  const labels = planned.map((n) => n.label);
  return [...groups.values()].map((marks) => {
    const { part, partId, surface, obstacles } = marks[0]!.fitted.of;
    const viewAngle = chooseViewAngle(surface, obstacles, distinctBlocks(marks, labels));
    const scene: SheetScene = {
      part,
      surface,
      obstacles,
      viewAngle,
      bench,
      edition: edition.name,
      designs: designsOf(
        sources,
        marks.map((m) => m.fitted.of.designId),
      ),
      marks: marks.map((m) => sheetMark(sources, m)),
    };
    return { part: partId, surfaceId: surface.id, marks, scene };
  });
}

function distinctBlocks(marks: readonly MarkBlocks[], labels: readonly string[]): CutBlock[] {
  const seen = new Map<string, CutBlock>();
  for (const mark of marks)
    for (const label of labels) for (const block of mark.blocks.get(label) ?? []) seen.set(block.key, block);
  return [...seen.values()];
}

/** What a piece has of some marks, mark by mark. */
export const blocksOnSheet = (marks: readonly MarkBlocks[], label: string): CutBlock[] =>
  marks.flatMap((mark) => mark.blocks.get(label) ?? []);

const designsOf = ({ designs }: SceneSources, ids: readonly string[]): SheetDesign[] =>
  [...new Set(ids)].map((id) => designs.get(id)!);

function sheetMark({ cutters }: SceneSources, { fitted, minFeatures }: MarkBlocks): SheetMark {
  const { mark, of, sizes } = fitted;
  const cutter = cutters.get(mark.cutter)!.name;
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
export function proofScene(sources: SceneSources, surfaces: readonly CutSurface[]): ProofScene {
  const { bench, edition, planned } = sources;
  const number = surfaces.flatMap((s) => s.marks).find((m) => m.fitted.mark.kind === 'number');
  const widest = number ? widestLabel(number, planned) : planned[0]!.label;
  return {
    bench,
    edition: edition.name,
    designs: designsOf(sources, edition.designs),
    surfaces: surfaces.map((s): ProofSurface => {
      const numbered = s.marks.some(variesByPiece);
      const labels = numbered ? planned.map((n) => n.label) : [widest];
      const pieces = labels.map((label) => ({ label, blocks: blocksOnSheet(s.marks, label) }));
      return { ...s.scene, pieces, widest };
    }),
    series: number
      ? edition.series.map((series) => ({
          title: series.title,
          surface: number.fitted.of.surface,
          direction: textDirectionOf(number.fitted.of),
          cutWidth: number.fitted.of.cutWidth,
          numbers: planned
            .filter((n) => n.series === series.id)
            .map(({ label }) => ({ label, blocks: blocksOnSheet([number], label) })),
        }))
      : [],
  };
}

/** Whether a mark differs from piece to piece. */
const variesByPiece = ({ fitted: { mark } }: MarkBlocks): boolean =>
  mark.kind === 'number' || mark.kind === 'dedication';

function widestLabel({ fitted }: MarkBlocks, planned: readonly Numbered[]): string {
  let widest = '';
  let width = -1;
  for (const { label } of planned) {
    const across = fitted.textOf(label)?.line.width ?? 0;
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
      blocks: blocksOnSheet(s.marks, label),
      widths: cutWidths(s.scene.marks),
    }));
    return { part: id, scene: { title: `${edition.name}, ${part.name}`, label, part, surfaces: cut } };
  });
}

/** An operation as a station runs it, and the pieces that go through. */
export interface OperationRun {
  readonly operation: Operation;
  readonly setup: Pick<MachineSetup, 'feed' | 'plunge' | 'speed'>;
  readonly scene: SheetScene;
  readonly pieces: readonly RunPiece[];
}

/** What the run sheet of a job shows. */
export function runSheetScene(
  sources: SceneSources,
  station: Station,
  wanted: readonly Numbered[],
  runs: readonly OperationRun[],
): RunSheet {
  const { bench, edition, cutters, materials } = sources;
  const first = wanted[0]!.label;
  return {
    bench,
    edition: edition.name,
    job:
      wanted.length === 1
        ? first
        : `${formatCount(wanted.length, 'piece')}, ${first} to ${wanted[wanted.length - 1]!.label}`,
    station,
    designs: designsOf(sources, edition.designs),
    operations: runs.map(({ operation, setup, scene, pieces }): RunOperation => {
      return {
        ...scene,
        material: materials.get(scene.part.material)!,
        cutter: cutters.get(operation.cutter)!,
        marks: operation.marks.map((m) => ({ ...sheetMark(sources, m), passes: m.passes })),
        feed: setup.feed,
        plunge: setup.plunge,
        speed: setup.speed,
        numbered: operation.marks.some(variesByPiece),
        example: { label: first, blocks: blocksOnSheet(operation.marks, first) },
        pieces,
      };
    }),
  };
}
