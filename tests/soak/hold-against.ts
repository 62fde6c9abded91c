import { isOfNumber } from '../../src/register/event.js';
import type { StoredEvent } from '../../src/register/register.js';
import { countOf, editionOf } from './request.mjs';
import type { Soak } from './soak.js';

export interface Faults {
  /** A number issued twice, or a request carried out twice. */
  readonly doubles: string[];
  /** Told to a worker, and not in the register as told. */
  readonly lost: string[];
  /** A request of several numbers that is there in part. */
  readonly halves: string[];
  /** Asked again with the same key, and answered otherwise. */
  readonly otherAnswers: string[];
}

/** Holds what the workers were told against what the register has. Nothing of the register's own judging is used. */
export function holdAgainst({ workers }: Soak, kept: readonly StoredEvent[]): Faults {
  const faults: Faults = { doubles: [], lost: [], halves: [], otherAnswers: [] };
  const numbers = new Set<string>();
  const once = new Set<string>();
  const byKey = new Map<string, number[]>();
  for (const { event } of kept) {
    if (!isOfNumber(event) || event.key === undefined) throw new Error('not of a worker');
    const { type, edition, number, key, nth } = event;
    const request = `${key} ${nth}`;
    if (once.has(request)) faults.doubles.push(request);
    once.add(request);
    const of = `${edition} ${number} ${type}`;
    if (numbers.has(of)) faults.doubles.push(of);
    numbers.add(of);
    const all = byKey.get(key) ?? [];
    byKey.set(key, all);
    if (nth !== all.length + 1) faults.halves.push(request);
    all.push(number);
    const i = Number(key.split(' ')[0]!.split('-').at(-1));
    if (edition !== editionOf(i)) faults.lost.push(`${key} in ${edition}`);
  }
  for (const [key, all] of byKey) {
    const [request, event] = key.split(' ');
    const wanted = event ? 1 : countOf(Number(request!.split('-').at(-1)));
    if (all.length !== wanted) faults.halves.push(`${key}: ${all.length} of ${wanted}`);
  }
  for (const { name, given, stood } of workers) {
    for (const [i, answers] of given) {
      const key = `${name}-${i}`;
      if (new Set(answers).size !== 1) faults.otherAnswers.push(`${key}: ${answers.join(' / ')}`);
      if (byKey.get(key)?.join(',') !== answers[0]) faults.lost.push(`${key}: ${answers[0]}`);
    }
    for (const [record, states] of stood) {
      const [i, event] = record.split(' ');
      if (states.some((state) => state !== event)) faults.otherAnswers.push(`${name}-${record}`);
      const first = byKey.get(`${name}-${i}`)?.[0];
      if (byKey.get(`${name}-${record}`)?.[0] !== first) faults.lost.push(`${name}-${record}`);
    }
  }
  return faults;
}
