import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Carried, Carrier, type Lost } from './carrier.js';
import { randomWorkshop, writeWorkshop } from './random-workshops.js';

/** What no step may take: processor time, and memory of the whole process. */
const MOST_CPU_MS = 10_000;
const MOST_MB = 1024;

export interface WorkshopSoak {
  /** Workshops that pass `check` and are carried on. */
  readonly wanted: number;
  /** The first workshop is made from this one, the next from the one after. */
  readonly seed: number;
  /** How many processes carry workshops at the same time. */
  readonly processes: number;
  /** Whether time and memory are faults; where not, only what does not end or dies is. */
  readonly limits: boolean;
  /** Gets a line now and then. */
  readonly report?: (line: string) => void;
}

export interface SoakCounts {
  made: number;
  passed: number;
  /** Of those that passed: with an answer from `cut`. */
  cut: number;
  slowestMs: number;
  slowestSeed: number;
  mostMb: number;
}

/** What each workshop may not come to, by seed, and what all of them came to. */
export interface SoakResult {
  readonly faults: readonly string[];
  readonly counts: SoakCounts;
}

/** Carries random workshops from a seed on until so many have passed `check`. A fault is measured once more, by itself. */
export async function soakWorkshops(order: WorkshopSoak): Promise<SoakResult> {
  const { wanted, processes, limits, report = () => undefined } = order;
  const root = mkdtempSync(join(tmpdir(), 'random-workshops-'));
  const faults: string[] = [];
  const counts: SoakCounts = { made: 0, passed: 0, cut: 0, slowestMs: 0, slowestSeed: 0, mostMb: 0 };
  let next = order.seed;
  const work = async () => {
    const carrier = new Carrier(MOST_MB);
    try {
      while (counts.passed < wanted) {
        const seed = next++;
        let carried = await carryOne(carrier, root, seed);
        if (faultOf(carried, limits)) {
          carrier.end();
          carried = await carryOne(carrier, root, seed);
        }
        const fault = faultOf(carried, limits);
        if (fault) {
          faults.push(`seed ${seed}: ${fault}`);
          report(faults.at(-1)!);
        }
        count(counts, seed, carried);
        if (counts.made % 100 === 0) report(JSON.stringify(counts));
      }
    } finally {
      carrier.end();
    }
  };
  try {
    await Promise.all(Array.from({ length: processes }, work));
  } finally {
    rmSync(root, { recursive: true, force: true });
  }
  return { faults, counts };
}

async function carryOne(carrier: Carrier, root: string, seed: number): Promise<Carried | Lost> {
  const dir = join(root, String(seed));
  writeWorkshop(dir, randomWorkshop(seed));
  const carried = await carrier.carry(dir);
  rmSync(dir, { recursive: true, force: true });
  return carried;
}

/** What no workshop may come to; undefined for an answer or a refusal within the limits. */
export function faultOf(carried: Carried | Lost, limits = true): string | undefined {
  if ('lost' in carried) return carried.lost;
  for (const { step, outcome, codes, cpuMs } of carried.steps) {
    if (outcome === 'fault') return `${step}: ${codes[0]}`;
    if (limits && cpuMs > MOST_CPU_MS) return `${step} took ${cpuMs} ms of processor time`;
    if (outcome === 'refusal' && codes.length === 0) return `${step} refuses without a problem`;
    // What a later step would refuse, check refuses.
    if (outcome === 'refusal' && step !== 'check') return `${step} refuses what check passed: ${codes[0]}`;
  }
  return limits && carried.rssMb > MOST_MB ? `the process held ${carried.rssMb} MB` : undefined;
}

function count(counts: SoakCounts, seed: number, carried: Carried | Lost): void {
  counts.made++;
  if ('lost' in carried) return;
  const { steps, rssMb } = carried;
  if (steps[0]!.outcome === 'answer') counts.passed++;
  if (steps.at(-1)!.step === 'cut' && steps.at(-1)!.outcome === 'answer') counts.cut++;
  counts.mostMb = Math.max(counts.mostMb, rssMb);
  const slowestMs = Math.max(...steps.map(({ cpuMs }) => cpuMs));
  if (slowestMs > counts.slowestMs) Object.assign(counts, { slowestMs, slowestSeed: seed });
}
