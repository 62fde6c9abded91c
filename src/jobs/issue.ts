import type { Numbered } from '../edition/labels.js';
import { planned } from '../edition/labels.js';
import { refuse } from '../problem.js';
import { openRegister } from '../register/open.js';
import { type Bench, editionOf, registerPlace } from './bench.js';

export interface IssueOrder {
  readonly edition: string;
  readonly series: string;
  readonly count: number;
  readonly by: string;
  readonly why?: string;
  /** Asking again with the same key gives the same numbers. */
  readonly key?: string;
}

export const clock = (): Date => new Date();

/** Takes the next free numbers of a series. Throws a Refusal: exit 2 for a wrong series, 3 when too few are free. */
export async function issueNumbers(bench: Bench, order: IssueOrder): Promise<Numbered[]> {
  const edition = editionOf(bench, order.edition);
  if (!edition.series.some((s) => s.id === order.series)) {
    const known = edition.series.map((s) => s.id).join(', ');
    throw refuse(
      2,
      `edition ${order.edition}`,
      `has no series ${order.series.slice(0, 60)}.`,
      `It has: ${known}.`,
    );
  }
  const register = await openRegister(registerPlace(bench), { now: clock });
  try {
    return await register.issue({ ...order, planned: planned(edition) });
  } finally {
    await register.close();
  }
}
