import { readFile, rm, stat, writeFile } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { checkWorkshop, formatCounts } from './check.js';
import { type CutDone, cutEdition } from './cut.js';
import { toUserLine } from './describe-problem.js';
import type { Environment } from './environment.js';
import { fitEdition } from './fit.js';
import { fitLines } from './fit-report.js';
import { issueNumbers } from './issue.js';
import { readbackOf } from './readback.js';
import { openWorkshop } from './workshop.js';
import { newWorkshop } from './workshop-folder.js';
import { refuse } from './workshop-messages.js';

const EDITION = 'nine-lights';
const STATION = 'rotary-level';
const BY = 'E. Marrow';
/** Says that a folder was made by the demo and may be made again. */
const MARKER = '.made-by-burin-demo';

export interface DemoDone {
  readonly ok: true;
  readonly workshop: string;
  readonly cut: CutDone;
  readonly worstMm: number;
  readonly summary: readonly string[];
}

/** The whole job on the sample workshop, in a folder of its own that a later demo replaces. */
export async function demo(dir: string, say: (line: string) => void): Promise<DemoDone> {
  if (await stat(join(dir, MARKER)).catch(() => undefined)) await rm(dir, { recursive: true });
  await newWorkshop(dir, EDITION);
  await writeFile(
    join(dir, MARKER),
    'Made by `burin demo`, which replaces this folder when it is run again.\n',
  );

  // Its numbers go to a file of its own, never to the register that the environment names; and no key signs them, since
  // a bench of the same name may have one.
  const environment: Environment = {
    registerUrl: undefined,
    keysFolder: `${resolve(dir)}.no-keys`,
    keepsMemory: false,
  };
  const checked = await checkWorkshop(dir, environment);
  say(`check   ${formatCounts(checked.counts)}: sound`);
  for (const remark of checked.remarks) say(`        ${toUserLine(remark)}`);

  const workshop = await openWorkshop(dir, environment);
  for (const line of fitLines(fitEdition(workshop, EDITION))) say(`fit     ${line}`);

  const wanted = [];
  for (const [series, count] of [
    ['main', 12],
    ['proofs', 3],
  ] as const) {
    const issued = await issueNumbers(workshop, {
      edition: EDITION,
      series,
      count,
      by: BY,
      key: `demo ${series}`,
    });
    wanted.push(...issued.map((n) => n.label));
    say(`issue   ${issued.map((n) => n.label).join('  ')}`);
  }

  const out = join(dir, 'out', EDITION);
  const cut = await cutEdition(workshop, {
    edition: EDITION,
    wanted: { labels: wanted },
    station: STATION,
    out,
  });
  const read = readbackOf(workshop);
  let worstMm = 0;
  const programs = cut.pieces.flatMap((p) => p.programs);
  for (const file of programs) {
    const found = read(file, await readFile(join(out, file), 'utf8'));
    if (!found.ok) throw refuse('workshop.demo-reads-back-wrong', file, {});
    worstMm = Math.max(worstMm, found.worstMm!);
  }
  say(
    `cut     ${cut.pieces.length} pieces, ${programs.length} programs read back within ${worstMm.toFixed(4)} mm`,
  );
  const first = cut.pieces[0]!;
  const summary = [
    `${cut.pieces.length} pieces over ${first.sheets.length} surfaces, about ${Math.ceil(cut.minutes)} minutes at the station:`,
    `  run sheet       ${join(out, cut.runSheet)}`,
    `  proof           ${join(out, cut.proof)}`,
    ...first.sheets.map((f) => `  sheet of ${first.label}  ${join(out, f)}`),
    ...first.programs.map((f) => `  program         ${join(out, f)}`),
    `  register        ${join(dir, 'register.db')}`,
  ];
  return { ok: true, workshop: dir, cut, worstMm, summary };
}
