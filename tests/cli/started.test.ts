import { expect, test } from 'vitest';
import { linesOf, startedWell } from './burin.js';
import { cleanAfterAll } from './folders.js';
import { compareStarted, STEPS } from './started-steps.js';

cleanAfterAll();

/** One of each kind: it looks, enters, cuts, draws, proves, copies, or refuses. */
const KINDS = ['check', 'unroll', 'issue', 'cut', 'certificate', 'audit', 'backup', 'resume'];

test('started as a process, a command of each kind does and says what it does within one', () =>
  compareStarted((command) => KINDS.includes(command)));

test('no command is left out of the steps', async () => {
  const help = await startedWell(['--help']);
  const commands = linesOf(help).flatMap((line) => /^ {2}([a-z]+) /.exec(line)?.[1] ?? []);
  expect(commands.length).toBeGreaterThan(15);
  const steps = new Set(STEPS.map(([name]) => name));
  expect(commands.filter((name) => !steps.has(name))).toEqual(['demo']);
});
