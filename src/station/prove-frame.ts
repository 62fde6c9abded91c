import type { Problem } from '../problem.js';
import type { MachineSetup } from './machine-setup.js';
import { problem } from './messages.js';
import { type ProgramHead, writeProgram } from './program.js';
import { readProgram } from './reader.js';
import { settingFaults } from './setting-faults.js';

/**
 * What is wrong with the lines round the blocks of every program of a set-up: a program of no blocks is read back. What the
 * reader refuses there no block could mend, so this is found before one is written.
 */
export function frameProblems(setup: MachineSetup, head: Omit<ProgramHead, 'label'>): Problem[] {
  const reading = readProgram(writeProgram(setup, { label: 'none', ...head }, []).text);
  const faults = reading.ok ? settingFaults(setup, reading.program) : reading.problems;
  const where = `station ${setup.station.name}: a program of no blocks`;
  return faults.map((why) => problem('station.frame-refused', where, { why }));
}
