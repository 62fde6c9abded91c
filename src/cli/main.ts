#!/usr/bin/env node
import { Command, CommanderError } from 'commander';
import { auditCommand } from './audit.js';
import { backupCommand } from './backup.js';
import { certificateCommand } from './certificate.js';
import { checkCommand } from './check.js';
import { checkpointCommand } from './checkpoint.js';
import { closeCommand } from './close.js';
import { cutCommand } from './cut.js';
import { demoCommand } from './demo.js';
import { exportCommand } from './export.js';
import { slip, tell, watchStreams } from './failure.js';
import { fitCommand } from './fit.js';
import { importCommand } from './import.js';
import { issueCommand } from './issue.js';
import { keyCommand } from './key.js';
import { moveCommand } from './move.js';
import { newCommand } from './new.js';
import { readbackCommand } from './readback.js';
import { recordCommand } from './record.js';
import { registerCommand } from './register.js';
import { restoreCommand } from './restore.js';
import { unrollCommand } from './unroll.js';
import { verifyCommand } from './verify.js';

const program = new Command('burin')
  .description(
    'From an approved design and an edition to a true-size sheet and a proved program for every piece.',
  )
  .option('--workshop <dir>', 'the workshop folder', '.')
  .option('--json', 'answer as JSON on stdout')
  // Slips are told by `tell`, in one form with everything else that can go wrong.
  .configureOutput({ outputError: () => undefined })
  .exitOverride((error) => {
    throw slip(error, 'burin');
  });

// A command brings in what it works with when it is called, and reads the documents before it brings in the rest:
// a slip is answered at once.
const commands = [
  newCommand,
  checkCommand,
  unrollCommand,
  fitCommand,
  issueCommand,
  cutCommand,
  readbackCommand,
  recordCommand,
  registerCommand,
  keyCommand,
  checkpointCommand,
  certificateCommand,
  verifyCommand,
  auditCommand,
  importCommand,
  exportCommand,
  restoreCommand,
  closeCommand,
  backupCommand,
  moveCommand,
  demoCommand,
];
for (const add of commands) {
  const command = add(program);
  command.exitOverride((error) => {
    throw slip(error, `burin ${command.name()}`);
  });
  // Every command takes the two common options after its name as well as before it.
  command.option('--workshop <dir>', 'the workshop folder').option('--json', 'answer as JSON on stdout');
}

watchStreams();
try {
  await program.parseAsync();
} catch (error) {
  // What is left of commander's own is an answer that was asked for.
  if (!(error instanceof CommanderError)) process.exitCode = tell(error, wantsJson(process.argv));
}

/** Asked of the bare words: a slip among them leaves no options to look at. */
function wantsJson(words: readonly string[]): boolean {
  const end = words.indexOf('--');
  return (end < 0 ? words : words.slice(0, end)).includes('--json');
}
