import { type ChildProcessWithoutNullStreams, spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { randomWorkshop, writeWorkshop } from './random-workshops.js';

/** How many workshops that pass `check` are carried on; `npm run soak -- workshops 5000` for many. */
const WANTED = Number(process.env.SOAK_WORKSHOPS ?? 40);
const SEED = Number(process.env.SOAK_SEED ?? 1 + (Date.now() % 1_000_000));
/** What no step may take: processor time, and memory of the whole process. */
const MOST_CPU_MS = 10_000;
const MOST_MB = 1024;
/** A step that has not ended by then never will. The clock is generous, for the machine may be busy. */
const PATIENCE_MS = 120_000;

interface Step {
  readonly step: string;
  readonly code: number;
  readonly cpuMs: number;
  readonly stderr: string;
}
interface Carried {
  readonly steps: readonly Step[];
  readonly rssMb: number;
}

const script = fileURLToPath(new URL('./carry.mjs', import.meta.url));

/** A process that carries one workshop after another, and is begun again when it dies or must be killed. */
class Carrier {
  #child: ChildProcessWithoutNullStreams | undefined;
  #lines: AsyncIterator<string> | undefined;

  async carry(dir: string): Promise<Carried | string> {
    if (!this.#child) {
      this.#child = spawn(process.execPath, [`--max-old-space-size=${MOST_MB}`, script]);
      this.#child.stdin.on('error', () => undefined);
      this.#child.stderr.resume();
      this.#lines = createInterface({ input: this.#child.stdout })[Symbol.asyncIterator]();
    }
    const child = this.#child;
    let began = 'start';
    let late = false;
    const timer = setTimeout(() => {
      late = true;
      child.kill('SIGKILL');
    }, PATIENCE_MS);
    child.stdin.write(`${dir}\n`);
    try {
      for (;;) {
        const { value, done } = await this.#lines!.next();
        if (done) {
          this.#child = undefined;
          return `${began}: ${late ? 'did not end' : `died (${child.signalCode ?? child.exitCode})`}`;
        }
        const said = JSON.parse(value) as { begins?: string } & Carried;
        if (said.begins === undefined) return said;
        began = said.begins;
      }
    } finally {
      clearTimeout(timer);
    }
  }

  end(): void {
    this.#child?.kill();
  }
}

/** What no workshop may come to, or undefined for an answer or a refusal with a message. */
function faultOf({ steps, rssMb }: Carried): string | undefined {
  for (const { step, code, cpuMs, stderr } of steps) {
    if (stderr.includes('fault of burin itself')) return `${step}: ${stderr}`;
    if (cpuMs > MOST_CPU_MS) return `${step} took ${cpuMs} ms of processor time`;
    // After a sound check, nothing is left that was written wrongly.
    if (code === 2 && step !== 'check') return `${step} found what check did not: ${stderr}`;
    if (code !== 0 && step !== 'fit' && stderr === '') return `${step} gives ${code} without a word`;
    if (step === 'cut' && code === 1) return `cut refuses what check passed: ${stderr}`;
  }
  return rssMb > MOST_MB ? `held ${rssMb} MB` : undefined;
}

test(`random workshops from seed ${SEED} get an answer or a refusal, in bounded time and memory`, async () => {
  const root = mkdtempSync(join(tmpdir(), 'burin-random-'));
  const carrier = new Carrier();
  const faults: string[] = [];
  const counts = { made: 0, passed: 0, cut: 0, slowestMs: 0, mostMb: 0 };
  try {
    for (let seed = SEED; counts.passed < WANTED; seed++) {
      const dir = join(root, String(seed));
      writeWorkshop(dir, randomWorkshop(seed));
      const carried = await carrier.carry(dir);
      rmSync(dir, { recursive: true, force: true });
      counts.made++;
      if (typeof carried === 'string') {
        faults.push(`seed ${seed}: ${carried}`);
        continue;
      }
      const fault = faultOf(carried);
      if (fault) faults.push(`seed ${seed}: ${fault}`);
      if (carried.steps[0]!.code === 0) counts.passed++;
      if (carried.steps.at(-1)!.step === 'cut' && carried.steps.at(-1)!.code === 0) counts.cut++;
      counts.slowestMs = Math.max(counts.slowestMs, ...carried.steps.map((s) => s.cpuMs));
      counts.mostMb = Math.max(counts.mostMb, carried.rssMb);
      if (process.env.SOAK_WORKSHOPS && counts.made % 100 === 0)
        console.log(JSON.stringify(counts), faults.length);
      if (process.env.SOAK_WORKSHOPS && (fault || typeof carried === 'string')) console.log(faults.at(-1));
    }
  } finally {
    carrier.end();
    rmSync(root, { recursive: true, force: true });
  }
  console.log(`random workshops from seed ${SEED}: ${JSON.stringify(counts)}`);
  expect(faults).toEqual([]);
}, 20_000_000);
