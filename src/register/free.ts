import type { Numbered } from '../edition/labels.js';
import { refuse } from '../problem.js';
import type { IssueOrder } from './register.js';

/** What is known of a series before a place in the sequence. */
export interface Known {
  before: number;
  /** Issued or void: these stay taken. */
  readonly taken: Set<number>;
  /** Kept back, until they are released. */
  readonly withheld: Set<number>;
  /** For each list of planned numbers, how many at its head are all taken. */
  readonly heads: WeakMap<readonly Numbered[], number>;
}

export const nothingKnown = (): Known => ({
  before: 0,
  taken: new Set(),
  withheld: new Set(),
  heads: new WeakMap(),
});

/** An event that takes a number, keeps it back or gives it free again. */
export interface Turn {
  readonly number: number;
  readonly type: 'issued' | 'withheld' | 'released' | 'void';
}

export function learn({ taken, withheld }: Known, turns: readonly Turn[]): void {
  for (const { number, type } of turns) {
    if (type === 'withheld') withheld.add(number);
    else if (type === 'released') withheld.delete(number);
    else taken.add(number);
  }
}

/** The lowest free planned numbers. Throws a Refusal (exit 3) when there are too few. */
export function lowest(
  { edition, series, planned, count }: IssueOrder,
  { taken, withheld, heads }: Known,
): readonly Numbered[] {
  let at = heads.get(planned) ?? 0;
  while (at < planned.length && taken.has(planned[at]!.number)) at++;
  heads.set(planned, at);
  const free: Numbered[] = [];
  for (; at < planned.length && free.length < count; at++) {
    const numbered = planned[at]!;
    if (!taken.has(numbered.number) && !withheld.has(numbered.number)) free.push(numbered);
  }
  if (free.length < count) {
    const none = free.length === 0;
    throw refuse(
      3,
      `edition ${edition}: series ${series}`,
      `${count} asked for, ${none ? 'none' : `only ${free.length}`} left; nothing was issued.`,
      none ? 'What is planned is issued, withheld or void.' : `Ask for ${free.length} or fewer.`,
    );
  }
  return free;
}
