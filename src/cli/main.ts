#!/usr/bin/env node
import { Command, CommanderError } from 'commander';
import { problemLine, Refusal } from '../problem.js';
import { checkCommand } from './check.js';
import { cutCommand } from './cut.js';
import { demoCommand } from './demo.js';
import { fitCommand } from './fit.js';
import { issueCommand } from './issue.js';
import { newCommand } from './new.js';
import { readbackCommand } from './readback.js';
import { registerCommand } from './register.js';
import { unrollCommand } from './unroll.js';

const program = new Command('burin')
  .description(
    'From an approved design and an edition to a true-size sheet and a proved program for every piece.',
  )
  .option('--workshop <dir>', 'the workshop folder', '.')
  .option('--json', 'answer as JSON on stdout')
  .showHelpAfterError('(burin --help tells more)')
  .exitOverride();

const commands = [
  newCommand,
  checkCommand,
  unrollCommand,
  fitCommand,
  issueCommand,
  cutCommand,
  readbackCommand,
  registerCommand,
  demoCommand,
];
for (const add of commands) {
  const command = add(program).exitOverride();
  // Every command takes the two common options after its name as well as before it.
  command.option('--workshop <dir>', 'the workshop folder').option('--json', 'answer as JSON on stdout');
}

try {
  await program.parseAsync();
} catch (error) {
  process.exitCode = report(error);
}

function report(error: unknown): number {
  if (error instanceof CommanderError) return error.exitCode === 0 ? 0 : 2;
  if (error instanceof Refusal) {
    for (const problem of error.problems) process.stderr.write(`${problemLine(problem)}\n`);
    const json = process.argv.includes('--json');
    if (json) process.stdout.write(`${JSON.stringify({ ok: false, problems: error.problems }, null, 2)}\n`);
    return error.exit;
  }
  const { code, message } = error as NodeJS.ErrnoException;
  if (code === 'EPIPE') return 0;
  if (code?.startsWith('E') && message) {
    process.stderr.write(`${message.replace(/\s+/g, ' ')}. Mend that and ask again.\n`);
    return 2;
  }
  process.stderr.write(
    `burin: a fault of burin itself: ${error instanceof Error ? error.stack : String(error)}\n`,
  );
  return 2;
}
