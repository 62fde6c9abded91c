/**
 * Carries workshops through check, fit, issue and cut, one after another in this process: each line read is a folder, and
 * lines of JSON say which step begins and, at last, what each step came to. `random-workshops-soak.ts` starts it.
 */
import { writeSync } from 'node:fs';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { checkWorkshop } from '../../dist/app/check.js';
import { cutEdition } from '../../dist/app/cut.js';
import { fitEdition } from '../../dist/app/fit.js';
import { issueNumbers } from '../../dist/app/issue.js';
import { openWorkshop } from '../../dist/app/workshop.js';
import { Refusal } from '../../dist/problem.js';

const report = (line) => writeSync(1, `${JSON.stringify(line)}\n`);

/** Does a step and says what it came to: an answer, a refusal with its exit code and codes, or a fault. */
async function take(step, action) {
  report({ begins: step });
  const before = process.cpuUsage();
  let outcome = { outcome: 'answer', codes: [] };
  try {
    await action();
  } catch (error) {
    if (error instanceof Refusal) {
      const { exit, problems } = error;
      const codes = problems
        .slice(0, 5)
        .map(({ code, where, values }) => `${code} ${where} ${JSON.stringify(values)}`);
      outcome = { outcome: 'refusal', exit, codes };
    } else outcome = { outcome: 'fault', codes: [String(error?.stack ?? error).slice(0, 900)] };
  }
  const { user, system } = process.cpuUsage(before);
  return { step, ...outcome, cpuMs: Math.round((user + system) / 1000) };
}

async function carry(dir) {
  const environment = { registerUrl: undefined, keysFolder: join(dir, 'keys') };
  const edition = 'edition';
  let workshop;
  let issued;
  const STEPS = {
    check: () => checkWorkshop(dir, environment),
    fit: async () => {
      workshop = await openWorkshop(dir, environment);
      fitEdition(workshop, edition);
    },
    issue: async () => {
      issued = await issueNumbers(workshop, { edition, series: 's0', count: 1, by: 'E. Marrow' });
    },
    cut: () =>
      cutEdition(workshop, {
        ...{ edition, station: 'station', out: join(dir, 'out') },
        wanted: { labels: [issued[0].label] },
      }),
  };
  const steps = [];
  for (const [step, action] of Object.entries(STEPS)) {
    steps.push(await take(step, action));
    if (steps.at(-1).outcome !== 'answer') break;
  }
  return steps;
}

for await (const dir of createInterface({ input: process.stdin }))
  report({ steps: await carry(dir), rssMb: Math.round(process.resourceUsage().maxRSS / 1024) });
