import { randomBytes } from 'node:crypto';
import type { Edition } from '../documents/schema/edition.js';
import { type Numbered, plannedNumbers } from '../edition/labels.js';
import { refuse } from '../edition/messages.js';
import { openRegister } from '../register/open.js';
import type { RegisterDeps } from '../register/register.js';
import { signAfter, type TellProblem } from './sign-log.js';
import { editionOf, registerPlace, type Workshop } from './workshop.js';

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

/** What a register is given of the world outside. */
export const registerDeps: RegisterDeps = { now: clock, salt: () => randomBytes(16) };

/** The parts of a piece that carry its number, in the order of the edition's designs. */
export function numberedParts({ documents }: Workshop, edition: Edition): string[] {
  const designs = edition.designs.map((id) => documents.designs.get(id)!);
  const numbered = designs.filter(({ marks }) => marks.some((mark) => mark.kind === 'number'));
  return [...new Set(numbered.map(({ part }) => part))];
}

/**
 * Takes the next free numbers of a series, and signs the log. Throws a Refusal: exit 2 for a wrong series, 3 when too
 * few are free. When the log cannot be signed, `notSigned` gets the reason, and the numbers are issued all the same.
 */
export async function issueNumbers(
  workshop: Workshop,
  order: IssueOrder,
  notSigned: TellProblem = () => undefined,
): Promise<Numbered[]> {
  const edition = editionOf(workshop, order.edition);
  if (!edition.series.some((s) => s.id === order.series)) {
    const known = edition.series.map((s) => s.id);
    const values = { series: order.series.slice(0, 60), known };
    throw refuse('edition.series-unknown', `edition ${order.edition}`, values);
  }
  const register = await openRegister(registerPlace(workshop), registerDeps);
  try {
    const parts = numberedParts(workshop, edition);
    const issued = await register.issue({
      ...{ ...order, planned: plannedNumbers(edition) },
      ...(parts.length > 0 && { parts }),
    });
    await signAfter(workshop, register, notSigned);
    return issued;
  } finally {
    await register.close();
  }
}
