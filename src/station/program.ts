import { type PreparedBlock, rapidMinutes, type Stand } from './block.js';
import { fixed, speedFigures } from './figures.js';
import { remark } from './remark.js';
import { type Run, safeHeight } from './run.js';

/** What a program's first lines say it is. */
export interface ProgramHead {
  readonly edition: string;
  readonly label: string;
  /** Of the design the program was written from. */
  readonly digest: string;
  readonly part: string;
  readonly surface: string;
  readonly cutter: string;
  readonly setup: string;
}

export interface Program {
  readonly text: string;
  /** From safe height over the first block to safe height over the last. */
  readonly minutes: number;
}

/** Puts a program together from blocks prepared for the same run. Same inputs, same bytes. */
export function writeProgram(run: Run, head: ProgramHead, blocks: readonly PreparedBlock[]): Program {
  const { opening, closing } = programFrame(run, head);
  const cuts = blocks.map((block) => block.text).join('');
  return { text: `${opening(head.label)}${cuts}${closing}`, minutes: minutesOf(run, blocks) };
}

/** What stands before and after the blocks. The label alone differs between pieces of one load. */
export interface ProgramFrame {
  opening(label: string): string;
  readonly closing: string;
}

export function programFrame(run: Run, head: Omit<ProgramHead, 'label'>): ProgramFrame {
  const { station, speed } = run;
  const first = remark('edition', head.edition);
  const rest = [
    remark('design', head.digest),
    remark('part', head.part),
    remark('surface', head.surface),
    remark('cutter', head.cutter),
    remark('set-up', head.setup),
    'G21 G90',
    ...station.before,
    station.feed === 'inverse-time' ? 'G93' : 'G94',
    `G0 Z${fixed(safeHeight(run), station.decimals)}`,
    ...(speed === undefined ? [] : [`M3 S${speedFigures(speed)}`]),
  ].join('\n');
  const closing = [...(speed === undefined ? [] : ['M5']), ...station.after, 'M2'].join('\n');
  return {
    opening: (label) => `${first}\n${remark('label', label)}\n${rest}\n`,
    closing: `${closing}\n`,
  };
}

/** From safe height over the first block to safe height over the last. */
export function minutesOf(run: Run, blocks: readonly PreparedBlock[]): number {
  let minutes = 0;
  let stand: Stand | undefined;
  for (const block of blocks) {
    if (stand) minutes += rapidMinutes(run, stand, block.start);
    minutes += block.minutes;
    stand = block.end;
  }
  return minutes;
}
