import { type ChildProcessWithoutNullStreams, spawn } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';

/** What a step came to. */
export interface Step {
  readonly step: 'check' | 'fit' | 'issue' | 'cut';
  readonly outcome: 'answer' | 'refusal' | 'fault';
  /** Of a refusal. */
  readonly exit?: number;
  /** The problems of a refusal, or the stack of a fault. */
  readonly codes: readonly string[];
  /** Processor time, ms. */
  readonly cpuMs: number;
}

export interface Carried {
  readonly steps: readonly Step[];
  /** The most memory that the process has held so far, MB. */
  readonly rssMb: number;
}

/** A workshop during which the process died or was killed. */
export interface Lost {
  readonly lost: string;
}

const script = fileURLToPath(new URL('./carry.mjs', import.meta.url));
/** The bar is 10 s; whatever takes six times as long is taken never to end. */
const LONGEST_CPU_MS = 60_000;
/** Where the processor time of another process cannot be read, the clock has to do. */
const LONGEST_CLOCK_MS = 900_000;
const LOOK_EVERY_MS = 1000;

/** With more room for what is young, the collector takes a seventh less of the time. */
const NEW_SPACE_MB = 64;

/** A process that carries one workshop after another, and is started again after it died. */
export class Carrier {
  readonly #heapMb: number;
  #child: ChildProcessWithoutNullStreams | undefined;
  #lines: AsyncIterator<string> | undefined;

  constructor(heapMb: number) {
    this.#heapMb = heapMb;
  }

  async carry(dir: string): Promise<Carried | Lost> {
    const child = this.#start();
    const began = Date.now();
    const before = cpuMsOf(child.pid!);
    let step = 'start';
    let endless = false;
    const watch = setInterval(() => {
      const cpuMs = cpuMsOf(child.pid!);
      endless =
        cpuMs === undefined ? Date.now() - began > LONGEST_CLOCK_MS : cpuMs - (before ?? 0) > LONGEST_CPU_MS;
      if (endless) child.kill('SIGKILL');
    }, LOOK_EVERY_MS);
    child.stdin.write(`${dir}\n`);
    try {
      for (;;) {
        const { value, done } = await this.#lines!.next();
        if (done) {
          this.#child = undefined;
          return { lost: `${step}: ${endless ? 'did not end' : 'the process died'}` };
        }
        const line = JSON.parse(value) as { begins?: string } & Carried;
        if (line.begins === undefined) return line;
        step = line.begins;
      }
    } finally {
      clearInterval(watch);
    }
  }

  /** Ends the process; the next workshop starts another. */
  end(): void {
    this.#child?.kill('SIGKILL');
    this.#child = undefined;
  }

  #start(): ChildProcessWithoutNullStreams {
    if (this.#child) return this.#child;
    const options = [`--max-old-space-size=${this.#heapMb}`, `--max-semi-space-size=${NEW_SPACE_MB}`];
    const child = spawn(process.execPath, [...options, script]);
    child.stdin.on('error', () => undefined);
    child.stderr.resume();
    this.#child = child;
    this.#lines = createInterface({ input: child.stdout })[Symbol.asyncIterator]();
    return child;
  }
}

/** Processor time of a process, ms, from proc(5), which counts in hundredths of a second; undefined elsewhere than Linux. */
function cpuMsOf(pid: number): number | undefined {
  const file = `/proc/${pid}/stat`;
  if (!existsSync(file)) return undefined;
  const afterName = readFileSync(file, 'utf8').split(') ').at(-1)!.split(' ');
  return (Number(afterName[11]) + Number(afterName[12])) * 10;
}
