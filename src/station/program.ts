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
  const { station, speed } = run;
  const opening = [
    remark('edition', head.edition),
    remark('label', head.label),
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
  ];
  const closing = [...(speed === undefined ? [] : ['M5']), ...station.after, 'M2'];
  let text = `${opening.join('\n')}\n`;
  let minutes = 0;
  let stand: Stand | undefined;
  for (const block of blocks) {
    if (stand) minutes += rapidMinutes(run, stand, block.start);
    text += block.text;
    minutes += block.minutes;
    stand = block.end;
  }
  text += `${closing.join('\n')}\n`;
  return { text, minutes };
}
