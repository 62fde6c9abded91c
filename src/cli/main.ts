#!/usr/bin/env node
import { watchStreams } from './failure.js';
import { run } from './run.js';
import { processTerminal } from './terminal.js';

const terminal = processTerminal(process);
watchStreams(process, terminal);
const code = await run(process.argv.slice(2), terminal);
// A stream may have failed meanwhile, and has set a code of its own.
process.exitCode ||= code;
