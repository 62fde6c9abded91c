import { expect } from 'vitest';
import { type Numbered, planned } from '../../src/edition/labels.js';
import { Refusal } from '../../src/problem.js';
import { nineLights } from '../edition/nine-lights.js';

export const NOON = new Date('2031-03-01T12:00:00.000Z');
export const PLAN = planned(nineLights());
export const ask = { edition: 'nine-lights', series: 'main', planned: PLAN, count: 1, by: 'A. Moss' };

export const labels = (numbers: readonly Numbered[]) => numbers.map(({ label }) => label);

/** The refusal a promise ends in, with the three things every refusal owes: an exit code, a place and a cure. */
export async function refusal(work: Promise<unknown>): Promise<Refusal> {
  const error = await work.then(
    () => undefined,
    (reason: unknown) => reason,
  );
  if (!(error instanceof Refusal)) throw new Error(`not refused, but: ${String(error)}`);
  for (const { where, what, cure } of error.problems) {
    expect([where, what, cure].map((text) => text.length > 0)).toEqual([true, true, true]);
  }
  return error;
}
