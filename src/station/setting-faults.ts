import type { Problem } from '../problem.js';
import type { MachineSetup } from './machine-setup.js';
import { problem } from './messages.js';
import { programFrame } from './program.js';
import { type ReadProgram, settingText } from './reader.js';
import { readWords } from './reader-words.js';

/**
 * What is wrong with the lines of a program that move nothing: they must be those of its station, in order, before the
 * first block and after the last move. Any other could shift the zero, change the tool or stop the cut.
 */
export function settingFaults(
  setup: MachineSetup,
  { settings, moves }: Pick<ReadProgram, 'settings' | 'moves'>,
): Problem[] {
  const { opening, closing } = programFrame(setup);
  const before = settingsIn(opening);
  const wanted = [...before, ...settingsIn(closing)];
  for (let k = 0; k < Math.max(wanted.length, settings.length); k++) {
    const found = settings[k];
    const want = wanted[k] ?? 'none';
    if (!found) return [problem('station.readback-setting-missing', '', { want })];
    const where = `line ${found.line}`;
    if (found.text !== want) return [problem('station.readback-setting', where, { found: found.text, want })];
    const isPlaced = k < before.length ? found.cuts === 0 : found.moves === moves.length;
    if (!isPlaced) return [problem('station.readback-setting-place', where, { found: found.text })];
  }
  return [];
}

const settingsIn = (lines: string): string[] =>
  lines.split('\n').flatMap((line) => {
    const read = readWords(line, 0, () => undefined);
    return read?.kind === 'setting' ? [settingText(read)] : [];
  });
