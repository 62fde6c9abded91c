import type { Command } from 'commander';
import { contextOf } from './context.js';
import { refuse } from './messages.js';

export const readbackCommand = (program: Command): Command =>
  program
    .command('readback')
    .argument('<file...>', 'programs written by `burin cut`')
    .option('--png <file>', 'draw a picture of what the program cuts, from its moves')
    .description('read programs again and compare them with the layout')
    .action(async (files: string[], options: { png?: string }, command: Command) => {
      const context = contextOf(command);
      if (options.png !== undefined && files.length !== 1) throw refuse('cli.one-picture', '--png', {});
      const { openWorkshop } = await import('../app/workshop.js');
      const workshop = await openWorkshop(context.workshop, context.environment);
      const { readPrograms } = await import('../app/read-programs.js');
      const { describeProblem, toUserLine } = await import('./describe-problem.js');
      const { files: found, unread } = await readPrograms(workshop, files);
      const ok = found.every((f) => f.ok);
      const lines = found
        .filter((f) => f.ok)
        .map(
          ({ file, label, worstMm, depthError, reads }) =>
            `${file}: ${label} as laid out, within ${worstMm!.toFixed(4)} mm; depth within ${depthError!.toFixed(4)} mm${reads === undefined ? '' : `; the cut reads ${reads}`}.`,
        );
      // As JSON they are part of the answer.
      if (!context.json)
        for (const { ok, problems } of found)
          if (!ok) for (const one of problems) context.say(toUserLine(one));
      const draw = found[0]?.draw;
      if (options.png !== undefined && draw) {
        const { writePng } = await import('../app/write-png.js');
        await writePng(options.png, await draw());
      }
      const answer = found.map(({ file, ok, label, worstMm, depthError, reads, problems }) => ({
        file,
        ok,
        label,
        worstMm,
        depthError,
        reads,
        problems: problems.map(describeProblem),
      }));
      context.answer({ ok, files: answer }, lines);
      if (!ok) context.end(unread ? 2 : 1);
    });
