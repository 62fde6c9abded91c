import { type AxisPosition, type PreparedBlock, rapidMinutes } from './block.js';
import { type MachineSetup, safeHeight } from './machine-setup.js';
import { formatFixed, formatSpeed } from './program-numbers.js';
import { remark } from './remark.js';

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
  /** Short digests of the other documents that decided the cut, by their kind. */
  readonly documents: string;
}

export interface Program {
  readonly text: string;
  /** From safe height over the first block to safe height over the last. */
  readonly minutes: number;
}

/** Puts a program together from blocks prepared for the same set-up. Same inputs, same bytes. */
export function writeProgram(
  setup: MachineSetup,
  head: ProgramHead,
  blocks: readonly PreparedBlock[],
): Program {
  const { opening, closing } = programFrame(setup);
  const cuts = blocks.map((block) => block.text).join('');
  return { text: `${programHead(head)}${opening}${cuts}${closing}`, minutes: minutesOf(setup, blocks) };
}

/** The comment lines that say what a program is. Of the pieces of one operation only the label differs. */
export const programHead = (head: ProgramHead): string =>
  [
    remark('edition', head.edition),
    remark('label', head.label),
    remark('design', head.digest),
    remark('part', head.part),
    remark('surface', head.surface),
    remark('cutter', head.cutter),
    remark('set-up', head.setup),
    remark('documents', head.documents),
    '',
  ].join('\n');

/** The lines between the head and the first block, and those after the last: the same for every piece. */
export interface ProgramFrame {
  readonly opening: string;
  readonly closing: string;
}

export function programFrame({ station, speed, ...setup }: MachineSetup): ProgramFrame {
  const opening = [
    'G21 G90',
    ...station.before,
    station.feed === 'inverse-time' ? 'G93' : 'G94',
    `G0 Z${formatFixed(safeHeight({ station, ...setup }), station.decimals)}`,
    ...(speed === undefined ? [] : [`M3 S${formatSpeed(speed)}`]),
    '',
  ];
  const closing = [...(speed === undefined ? [] : ['M5']), ...station.after, 'M2', ''];
  return { opening: opening.join('\n'), closing: closing.join('\n') };
}

/** From safe height over the first block to safe height over the last. */
export function minutesOf(setup: MachineSetup, blocks: readonly PreparedBlock[]): number {
  let minutes = 0;
  let position: AxisPosition | undefined;
  for (const block of blocks) {
    if (position) minutes += rapidMinutes(setup, position, block.start);
    minutes += block.minutes;
    position = block.end;
  }
  return minutes;
}
