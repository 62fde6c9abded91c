import type { CutBlock } from '../cutting/cuts.js';
import type { Cutter } from '../documents/schema/cutter.js';
import type { Material } from '../documents/schema/material.js';
import type { Station } from '../documents/schema/station.js';
import { type Caution, cautionsFor } from './cautions.js';
import { told } from './figures.js';
import type { Pictured } from './picture.js';
import { runPicture } from './run-picture.js';
import { type SetUpLine, tipWords, zeroLines } from './run-setup.js';
import { RUN_STYLE } from './run-style.js';
import { attribute, content } from './text.js';
import { markWords, type SheetDesign, type SheetMark, shortDigest } from './title-block.js';

export interface RunSheet {
  readonly bench: string;
  readonly edition: string;
  /** What the job is called: an order, a batch. */
  readonly job: string;
  readonly station: Station;
  readonly designs: readonly SheetDesign[];
  /** In the order they are set up. */
  readonly loads: readonly RunLoad[];
}

export interface RunMark extends SheetMark {
  /** Depth of each pass in order, mm. */
  readonly passes: readonly number[];
}

/** One set-up: a cutter in the station, a surface under it, and the pieces that go through. */
export interface RunLoad extends Pictured {
  readonly material: Material;
  readonly cutter: Cutter;
  readonly marks: readonly RunMark[];
  /** As the programs have them: mm/min along the surface and straight down. */
  readonly feed: number;
  readonly plunge: number;
  /** 1/min; left out when the cutter does not turn. */
  readonly speed?: number;
  /** True when the number of the piece is cut in this load, and is to be read back from the piece. */
  readonly numbered: boolean;
  /** Blocks of one piece, drawn in the picture to show the place; `label` says what they are. */
  readonly shown: { readonly label: string; readonly blocks: readonly CutBlock[] };
  /** In the order they are cut. */
  readonly pieces: readonly RunPiece[];
}

export interface RunPiece {
  readonly label: string;
  /** File name of its program. */
  readonly file: string;
  readonly minutes: number;
}

/** The sheet that lies beside the machine: what to set up, what to mind, which pieces in which order. HTML. */
export function runSheet(run: RunSheet): string {
  const title = `Run sheet: ${run.edition}, ${run.job}`;
  const total = run.loads.reduce((sum, load) => sum + minutesOf(load), 0);
  return [
    '<!DOCTYPE html>',
    '<html lang="en">',
    '<head>',
    '<meta charset="utf-8">',
    '<meta name="viewport" content="width=device-width, initial-scale=1">',
    `<title>${content(title)}</title>`,
    `<style>${RUN_STYLE}</style>`,
    '</head>',
    '<body>',
    '<main>',
    '<header>',
    `<h1>${content(run.edition)}</h1>`,
    `<p class="quiet">Run sheet, ${content(run.bench)}</p>`,
    lines([
      { key: 'Job', words: run.job },
      { key: 'Station', words: run.station.name },
      ...run.designs.map(({ name, digest }) => ({
        key: 'Design',
        words: `${name} \u00b7 ${shortDigest(digest)}`,
      })),
      { key: 'Loads', words: `${run.loads.length}, ${timeWords(total)} of cutting in all` },
    ]),
    '<div class="written"><span>Date</span><span>Set up by</span><span>Checked by</span></div>',
    '</header>',
    ...run.loads.map((load, k) => loadSection(run, load, k)),
    '</main>',
    '</body>',
    '</html>',
    '',
  ].join('\n');
}

function loadSection(run: RunSheet, load: RunLoad, k: number): string {
  const { part, surface, cutter, material } = load;
  const name = `load-${k + 1}`;
  const picture = runPicture(
    load,
    load.marks,
    load.shown.label,
    load.shown.blocks,
    `${part.name}, surface ${surface.id}: where ${load.shown.label} is cut`,
  );
  const size = picture.scale === 1 ? 'true size' : `drawn 1 : ${told(1 / picture.scale)}`;
  return [
    `<section class="load" aria-labelledby="${name}">`,
    `<h2 id="${name}">Load ${k + 1}: ${content(part.name)}, surface ${content(surface.id)}</h2>`,
    '<div class="side">',
    '<div>',
    lines([
      { key: 'Material', words: material.name },
      { key: 'Cutter', words: `${cutter.name}: ${tipWords(cutter)}` },
      {
        key: 'Spindle',
        words: load.speed === undefined ? 'does not turn' : `${told(load.speed)} per minute`,
      },
      { key: 'Feed', words: `${told(load.feed)} mm/min, down ${told(load.plunge)} mm/min` },
      ...load.marks.map((one) => ({ key: one.name, words: `${markWords(one)}; ${passWords(one.passes)}` })),
    ]),
    '<h3>Set-up and zero</h3>',
    lines(zeroLines(run.station, surface, part)),
    '</div>',
    `<figure>${picture.svg}<figcaption>${content(load.shown.label)} in its place, ${size}</figcaption></figure>`,
    '</div>',
    cautionBox(cautionsFor(material.family, cutter.shape, material.cautions), `${name}-cautions`),
    piecesTable(run, load, k),
    '</section>',
  ].join('\n');
}

const lines = (all: readonly SetUpLine[]): string =>
  `<dl>${all.map(({ key, words }) => `<dt>${content(key)}</dt><dd>${content(words)}</dd>`).join('')}</dl>`;

const passWords = (passes: readonly number[]): string =>
  passes.length === 1 ? '1 pass' : `${passes.length} passes: ${passes.map((p) => told(p)).join(', ')} mm`;

const cautionBox = (cautions: readonly Caution[], name: string): string =>
  [
    `<div class="cautions" role="note" aria-labelledby="${name}">`,
    `<h3 id="${name}">Cautions</h3>`,
    '<ul>',
    ...cautions.map(
      ({ words, source }) => `<li>${content(words)}${source ? ` <cite>${content(source)}</cite>` : ''}</li>`,
    ),
    '</ul>',
    '</div>',
  ].join('\n');

function piecesTable(run: RunSheet, load: RunLoad, k: number): string {
  const count = load.pieces.length;
  const caption = `Pieces of load ${k + 1}, in the order they are cut`;
  // In the header, so that every page says what it belongs to; a caption would be left behind on the first.
  const again = `${run.edition}, ${run.job}, load ${k + 1}: ${load.part.name}, surface ${load.surface.id}, ${count} ${count === 1 ? 'piece' : 'pieces'} in this order`;
  const heads: readonly (readonly [string, string])[] = [
    ['done', 'Done'],
    ['label', 'Label'],
    ['file', 'Program'],
    ['time', 'Time'],
    ...(load.numbered ? [['read', 'Number as read on the piece'] as const] : []),
    ['by', 'Cut by'],
  ];
  return [
    '<table>',
    `<caption>${content(caption)}</caption>`,
    '<thead>',
    `<tr class="again"><th scope="colgroup" colspan="${heads.length}">${content(again)}</th></tr>`,
    `<tr>${heads.map(([c, words]) => `<th scope="col" class="${c}">${words}</th>`).join('')}</tr></thead>`,
    '<tbody>',
    ...load.pieces.map((piece) => pieceRow(piece, load.numbered)),
    '</tbody>',
    `<tfoot><tr><th scope="row" colspan="3">Total</th><td class="time">${timeWords(minutesOf(load))}</td>`,
    `<td colspan="${heads.length - 4}"></td></tr></tfoot>`,
    '</table>',
  ].join('\n');
}

const pieceRow = ({ label, file, minutes }: RunPiece, numbered: boolean): string =>
  [
    `<tr data-label="${attribute(label)}"><td class="done"><span class="tick"></span></td>`,
    `<th scope="row" class="label">${content(label)}</th>`,
    `<td class="file">${content(file)}</td><td class="time">${timeWords(minutes)}</td>`,
    numbered ? '<td class="read"><span class="box"></span></td>' : '',
    '<td class="by"></td></tr>',
  ].join('');

const minutesOf = (load: RunLoad): number => load.pieces.reduce((sum, { minutes }) => sum + minutes, 0);

/** Rounded up, to seconds or from an hour on to minutes: a time is a promise about when to be back. */
export function timeWords(minutes: number): string {
  const seconds = Math.ceil(minutes * 60 - 1e-6);
  const two = (v: number): string => String(v).padStart(2, '0');
  if (seconds < 60) return `${seconds} s`;
  if (seconds < 3600) return `${Math.floor(seconds / 60)} min ${two(seconds % 60)} s`;
  const whole = Math.ceil(seconds / 60);
  return `${Math.floor(whole / 60)} h ${two(whole % 60)} min`;
}
