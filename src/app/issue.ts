import { type Numbered, plannedNumbers } from '../edition/labels.js';
import { refuse } from '../edition/messages.js';
import { checkLabels } from './check-labels.js';
import { currentTerms, numberedParts } from './current-terms.js';
import { editionOf, type OpenDocuments } from './open-documents.js';
import { openForEntry } from './open-for-entry.js';
import { signAfter, type TellProblem } from './sign-log.js';

export interface IssueOrder {
  readonly edition: string;
  readonly series: string;
  readonly count: number;
  readonly by: string;
  readonly why?: string;
  /** Asking again with the same key gives the same numbers. */
  readonly key?: string;
}

/**
 * Takes the next free numbers of a series, and signs the log. Throws a Refusal: exit 1 where a font cannot cut the
 * labels, 2 for a wrong series, 3 when too few are free. When the log cannot be signed, `notSigned` gets the reason, and the numbers are issued all the same.
 */
export async function issueNumbers(
  workshop: OpenDocuments,
  order: IssueOrder,
  notSigned: TellProblem = () => undefined,
): Promise<Numbered[]> {
  const edition = editionOf(workshop, order.edition);
  if (!edition.series.some((s) => s.id === order.series)) {
    const known = edition.series.map((s) => s.id);
    const values = { series: order.series.slice(0, 60), known };
    throw refuse('edition.series-unknown', `edition ${order.edition}`, values);
  }
  const planned = plannedNumbers(edition);
  await checkLabels(
    workshop,
    edition,
    planned.filter(({ series }) => series === order.series),
  );
  const register = await openForEntry(workshop);
  try {
    const parts = numberedParts(workshop, edition);
    const issued = await register.issue({
      ...{ ...order, planned },
      ...(parts.length > 0 && { parts }),
      terms: currentTerms(workshop, edition),
    });
    await signAfter(workshop, register, notSigned);
    return issued;
  } finally {
    await register.close();
  }
}
