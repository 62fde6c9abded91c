import { readFile } from 'node:fs/promises';
import type { Command } from 'commander';
import { openBench } from '../jobs/bench.js';
import { readbackOf } from '../jobs/readback.js';
import { problemLine } from '../problem.js';
import { doorOf } from './door.js';

export const readbackCommand = (program: Command): Command =>
  program
    .command('readback')
    .argument('<file...>', 'programs written by `burin cut`')
    .description('read programs again and compare them with the layout')
    .action(async (files: string[], _options, command: Command) => {
      const door = doorOf(command);
      const read = readbackOf(await openBench(door.workshop));
      const found = [];
      for (const file of files) found.push(read(file, await readFile(file, 'utf8')));
      const ok = found.every((f) => f.ok);
      const lines = found.flatMap((f) =>
        f.ok
          ? [
              `${f.file}: ${f.label} as laid out, within ${f.worstMm!.toFixed(4)} mm; depth within ${f.depthError!.toFixed(4)} mm.`,
            ]
          : f.problems.map(problemLine),
      );
      const answer = found.map(({ file, ok, label, worstMm, depthError, problems }) => ({
        file,
        ok,
        label,
        worstMm,
        depthError,
        problems,
      }));
      door.answer({ ok, files: answer }, lines);
      if (!ok) door.end(1);
    });
