import { expect } from 'vitest';
import { type Numbered, plannedNumbers } from '../../src/edition/labels.js';
import { Refusal } from '../../src/problem.js';
import { nineLights } from '../edition/nine-lights.js';
import { describeProblem } from '../words-of.js';

export const NOON = new Date('2021-03-01T12:00:00.000Z');
export const PLAN = plannedNumbers(nineLights());
export const ask = { edition: 'nine-lights', series: 'main', planned: PLAN, count: 1, by: 'A. Moss' };

export const labels = (numbers: readonly Numbered[]) => numbers.map(({ label }) => label);

export const codesOf = ({ problems }: Refusal): string[] => problems.map(({ code }) => code);

/** The refusal a promise ends in. Every one has a code of its room, a place, a message and a hint. */
export async function refusal(work: Promise<unknown>): Promise<Refusal> {
  const error = await work.then(
    () => undefined,
    (reason: unknown) => reason,
  );
  if (!(error instanceof Refusal)) throw new Error(`not refused, but: ${String(error)}`);
  for (const { code, where, message, hint } of error.problems.map(describeProblem)) {
    expect(code).toMatch(/^(register|documents|terms)\.[a-z-]+$/);
    expect([where, message, hint].map((text) => text.length > 0)).toEqual([true, true, true]);
    // A message that was not filled in would show its braces.
    expect(`${message} ${hint}`).not.toMatch(/[{}]|undefined/);
  }
  return error;
}

/** What a closing says of its statement, as far as tables ask: of another log, by another maker. */
export const STATED = {
  at: NOON.toISOString(),
  document: 'd0'.repeat(32),
  maker: 'Lantern Coast',
  remarks: [],
  size: 0,
  root: 'e0'.repeat(32),
};
