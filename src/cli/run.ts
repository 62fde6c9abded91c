import { readFileSync } from 'node:fs';
import { type Command, CommanderError } from 'commander';
import { amendCommand } from './amend.js';
import { auditCommand } from './audit.js';
import { backupCommand } from './backup.js';
import { certificateCommand } from './certificate.js';
import { checkCommand } from './check.js';
import { checkpointCommand } from './checkpoint.js';
import { closeCommand } from './close.js';
import { Program } from './context.js';
import { correctCommand } from './correct.js';
import { cutCommand } from './cut.js';
import { demoCommand } from './demo.js';
import { exportCommand } from './export.js';
import { reportFailure, usageRefusal } from './failure.js';
import { fitCommand } from './fit.js';
import { importCommand } from './import.js';
import { issueCommand } from './issue.js';
import { jsonText } from './json-text.js';
import { keyCommand } from './key.js';
import { refuse } from './messages.js';
import { moveCommand } from './move.js';
import { newCommand } from './new.js';
import { type ProgressLine, progressLine } from './progress-line.js';
import { readbackCommand } from './readback.js';
import { recordCommand } from './record.js';
import { registerCommand } from './register.js';
import { restoreCommand } from './restore.js';
import { resumeCommand } from './resume.js';
import { retractCommand } from './retract.js';
import { rolesCommand } from './roles.js';
import type { Terminal } from './terminal.js';
import { unrollCommand } from './unroll.js';
import { verifyCommand } from './verify.js';
import { withdrawalsCommand } from './withdrawals.js';
import { witnessCommand } from './witness.js';

/** Commands by the person who uses them. A command loads what it works with only when it is called. */
const GROUPS = {
  'To begin': [newCommand, checkCommand, demoCommand],
  'The designer lays out': [fitCommand, unrollCommand],
  'The engraver cuts': [cutCommand, readbackCommand],
  'The register keeper issues and answers': [
    issueCommand,
    recordCommand,
    correctCommand,
    retractCommand,
    registerCommand,
    certificateCommand,
    withdrawalsCommand,
    verifyCommand,
    auditCommand,
    amendCommand,
    closeCommand,
  ],
  'The register is kept safe': [
    keyCommand,
    checkpointCommand,
    witnessCommand,
    importCommand,
    exportCommand,
    restoreCommand,
    resumeCommand,
    backupCommand,
    moveCommand,
    rolesCommand,
  ],
};

const PACKAGE = new URL('../../package.json', import.meta.url);
const version = (): string => (JSON.parse(readFileSync(PACKAGE, 'utf8')) as { version: string }).version;

/** Runs one command line, without the name of the program; gives the exit code. Nothing is thrown. */
export async function run(words: readonly string[], terminal: Terminal): Promise<0 | 1 | 2 | 3> {
  const json = wantsJson(words);
  const line = progressLine(terminal, json);
  let asked = '';
  const program = programFor(terminal, line, (text) => {
    if (json) asked += text;
    else terminal.out(text);
  });
  try {
    await program.parseAsync(words, { from: 'user' });
    return program.code;
  } catch (error) {
    line.clear();
    // What is left of commander's own errors is an answer that was asked for.
    if (error instanceof CommanderError) {
      const answer = error.code === 'commander.version' ? { version: version() } : { help: asked };
      if (json) terminal.out(`${jsonText({ ok: true, ...answer })}\n`);
      return 0;
    }
    return reportFailure(error, json, terminal);
  }
}

/** `show` takes the text of the version or of a help that was asked for. */
function programFor(terminal: Terminal, line: ProgressLine, show: (text: string) => void): Program {
  const program = new Program(terminal, line);
  program
    .description(
      'From an approved design and an edition to a true-size sheet and a proved program for every piece.',
    )
    .option('--workshop <dir>', 'the workshop folder', '.')
    .option('--json', 'answer as JSON on stdout')
    .version(version(), '--version', 'the version of burin')
    .configureOutput({
      writeOut: show,
      writeErr: terminal.err,
      // Slips are reported like everything else that can go wrong.
      outputError: () => undefined,
    })
    .exitOverride((error) => {
      throw usageRefusal(error, 'burin');
    })
    .hook('preAction', (_, command) => refuseEmptyWords(command))
    .helpCommand(false);
  for (const [heading, commands] of Object.entries(GROUPS)) {
    for (const add of commands) {
      const command = add(program).helpGroup(`${heading}:`);
      command.exitOverride((error) => {
        throw usageRefusal(error, `burin ${command.name()}`);
      });
      // Every command takes the two common options after its name as well as before it.
      command.option('--workshop <dir>', 'the workshop folder').option('--json', 'answer as JSON on stdout');
    }
  }
  return program;
}

/** No path, name or person is empty: an empty word is a variable of a script that was never set. */
function refuseEmptyWords(command: Command): void {
  const named: [name: string, value: unknown][] = [
    ...command.registeredArguments.map((one, k): [string, unknown] => [
      `<${one.name()}>`,
      command.processedArgs[k],
    ]),
    ...Object.entries(command.optsWithGlobals()).map(([name, value]): [string, unknown] => [
      `--${name.replace(/[A-Z]/g, (c) => `-${c.toLowerCase()}`)}`,
      value,
    ]),
  ];
  for (const [name, value] of named)
    if ([value].flat().some((one) => typeof one === 'string' && one.trim() === ''))
      throw refuse('cli.empty-word', `burin ${command.name()}`, { name });
}

/** Asked of the bare words: a slip among them leaves no options to look at. */
function wantsJson(words: readonly string[]): boolean {
  const end = words.indexOf('--');
  return (end < 0 ? words : words.slice(0, end)).includes('--json');
}
