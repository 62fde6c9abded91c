import type { CutBlock } from '../cutting/cuts.js';
import type { Cutter } from '../documents/schema/cutter.js';
import type { Material } from '../documents/schema/material.js';
import type { Station } from '../documents/schema/station.js';
import { type Caution, cautionsFor } from './cautions.js';
import { escapeAttribute, escapeContent } from './display-text.js';
import { formatCount, formatDuration, formatNumber } from './readable-numbers.js';
import { runPicture } from './run-picture.js';
import { describeTip, type SetUpLine, zeroLines } from './run-setup.js';
import { RUN_STYLE } from './run-style.js';
import type { SurfaceView } from './surface-drawing.js';
import type { Canvas } from './svg-canvas.js';
import { describeMark, type SheetDesign, type SheetMark, shortDigest } from './title-block.js';

export interface RunSheet {
  readonly bench: string;
  readonly edition: string;
  /** What the job is called: an order, a batch. */
  readonly job: string;
  readonly station: Station;
  readonly designs: readonly SheetDesign[];
  /** In the order they are set up. */
  readonly operations: readonly RunOperation[];
}

export interface RunMark extends SheetMark {
  /** Depth of each pass in order, mm. */
  readonly passes: readonly number[];
}

/** One set-up: a cutter in the station, a surface under it, and the pieces that go through. */
export interface RunOperation extends SurfaceView {
  readonly material: Material;
  readonly cutter: Cutter;
  readonly marks: readonly RunMark[];
  /** As the programs have them: mm/min along the surface and straight down. */
  readonly feed: number;
  readonly plunge: number;
  /** 1/min; left out when the cutter does not turn. */
  readonly speed?: number;
  /** True when the number of the piece is cut in this operation, and is to be read from the piece. */
  readonly numbered: boolean;
  /** The piece that the picture shows, with its blocks. */
  readonly example: { readonly label: string; readonly blocks: readonly CutBlock[] };
  /** In the order they are cut. */
  readonly pieces: readonly RunPiece[];
}

export interface RunPiece {
  readonly label: string;
  /** File name of its program. */
  readonly file: string;
  readonly minutes: number;
}

/** The sheet for beside the machine, as HTML: what to set up, what to take care of, which pieces in which order. */
export function writeRunSheet(canvas: Canvas, run: RunSheet): string {
  const title = `Run sheet: ${run.edition}, ${run.job}`;
  const total = run.operations.reduce((sum, one) => sum + minutesOf(one), 0);
  return [
    '<!DOCTYPE html>',
    '<html lang="en">',
    '<head>',
    '<meta charset="utf-8">',
    '<meta name="viewport" content="width=device-width, initial-scale=1">',
    `<title>${escapeContent(title)}</title>`,
    `<style>${RUN_STYLE}</style>`,
    '</head>',
    '<body>',
    '<main>',
    '<header>',
    `<h1>${escapeContent(run.edition)}</h1>`,
    `<p class="quiet">Run sheet, ${escapeContent(run.bench)}</p>`,
    lines([
      { key: 'Job', words: run.job },
      { key: 'Station', words: run.station.name },
      ...run.designs.map(({ name, digest }) => ({
        key: 'Design',
        words: `${name} \u00b7 ${shortDigest(digest)}`,
      })),
      {
        key: 'Operations',
        words: `${run.operations.length}, ${formatDuration(total)} of cutting in all`,
      },
    ]),
    '<div class="written"><span>Date</span><span>Set up by</span><span>Checked by</span></div>',
    '</header>',
    ...run.operations.map((one, k) => operationSection(canvas, run, one, k)),
    '</main>',
    '</body>',
    '</html>',
    '',
  ].join('\n');
}

function operationSection(canvas: Canvas, run: RunSheet, operation: RunOperation, k: number): string {
  const { part, surface, cutter, material } = operation;
  const name = `operation-${k + 1}`;
  const picture = runPicture(
    canvas,
    operation,
    operation.marks,
    operation.example.label,
    operation.example.blocks,
    `${part.name}, surface ${surface.id}: where ${operation.example.label} is cut`,
  );
  const size = picture.scale === 1 ? 'true size' : `drawn 1 : ${formatNumber(1 / picture.scale)}`;
  return [
    `<section class="operation" aria-labelledby="${name}">`,
    `<h2 id="${name}">Operation ${k + 1}: ${escapeContent(part.name)}, surface ${escapeContent(surface.id)}</h2>`,
    '<div class="side">',
    '<div>',
    lines([
      { key: 'Material', words: material.name },
      { key: 'Cutter', words: `${cutter.name}: ${describeTip(cutter)}` },
      {
        key: 'Spindle',
        words:
          operation.speed === undefined ? 'does not turn' : `${formatNumber(operation.speed)} per minute`,
      },
      {
        key: 'Feed',
        words: `${formatNumber(operation.feed)} mm/min, down ${formatNumber(operation.plunge)} mm/min`,
      },
      ...operation.marks.map((one) => ({
        key: one.name,
        words: `${describeMark(one)}; ${describePasses(one.passes)}`,
      })),
    ]),
    '<h3>Set-up and zero</h3>',
    lines(zeroLines(run.station, surface, part)),
    '</div>',
    `<figure>${picture.svg}<figcaption>${escapeContent(operation.example.label)} in its place, ${size}</figcaption></figure>`,
    '</div>',
    cautionBox(cautionsFor(material.family, cutter.shape, material.cautions), `${name}-cautions`),
    piecesTable(run, operation, k),
    '</section>',
  ].join('\n');
}

const lines = (all: readonly SetUpLine[]): string =>
  `<dl>${all.map(({ key, words }) => `<dt>${escapeContent(key)}</dt><dd>${escapeContent(words)}</dd>`).join('')}</dl>`;

const describePasses = (passes: readonly number[]): string =>
  passes.length === 1
    ? formatCount(1, 'pass')
    : `${formatCount(passes.length, 'pass', 'passes')}: ${passes.map((p) => formatNumber(p)).join(', ')} mm`;

const cautionBox = (cautions: readonly Caution[], name: string): string =>
  [
    `<div class="cautions" role="note" aria-labelledby="${name}">`,
    `<h3 id="${name}">Cautions</h3>`,
    '<ul>',
    ...cautions.map(
      ({ words, source }) =>
        `<li>${escapeContent(words)}${source ? ` <cite>${escapeContent(source)}</cite>` : ''}</li>`,
    ),
    '</ul>',
    '</div>',
  ].join('\n');

function piecesTable(run: RunSheet, operation: RunOperation, k: number): string {
  const caption = `Pieces of operation ${k + 1}, in the order they are cut`;
  // In the header, so that every page says what it belongs to; a caption is on the first page alone.
  const again = `${run.edition}, ${run.job}, operation ${k + 1}: ${operation.part.name}, surface ${operation.surface.id}, ${formatCount(operation.pieces.length, 'piece')} in this order`;
  const heads: readonly (readonly [string, string])[] = [
    ['done', 'Done'],
    ['label', 'Label'],
    ['file', 'Program'],
    ['time', 'Time'],
    ...(operation.numbered ? [['read', 'Number as read on the piece'] as const] : []),
    ['by', 'Cut by'],
  ];
  return [
    '<table>',
    `<caption>${escapeContent(caption)}</caption>`,
    '<thead>',
    `<tr class="again"><th scope="colgroup" colspan="${heads.length}">${escapeContent(again)}</th></tr>`,
    `<tr>${heads.map(([c, words]) => `<th scope="col" class="${c}">${words}</th>`).join('')}</tr></thead>`,
    '<tbody>',
    ...operation.pieces.map((piece) => pieceRow(piece, operation.numbered)),
    '</tbody>',
    `<tfoot><tr><th scope="row" colspan="3">Total</th><td class="time">${formatDuration(minutesOf(operation))}</td>`,
    `<td colspan="${heads.length - 4}"></td></tr></tfoot>`,
    '</table>',
  ].join('\n');
}

const pieceRow = ({ label, file, minutes }: RunPiece, numbered: boolean): string =>
  [
    `<tr data-label="${escapeAttribute(label)}"><td class="done"><span class="tick"></span></td>`,
    `<th scope="row" class="label">${escapeContent(label)}</th>`,
    `<td class="file">${escapeContent(file)}</td><td class="time">${formatDuration(minutes)}</td>`,
    numbered ? '<td class="read"><span class="box"></span></td>' : '',
    '<td class="by"></td></tr>',
  ].join('');

const minutesOf = (operation: RunOperation): number =>
  operation.pieces.reduce((sum, { minutes }) => sum + minutes, 0);
