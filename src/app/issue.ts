import { labelIndexOf } from '../edition/label-index.js';
import { type Numbered, plannedNumbers } from '../edition/labels.js';
import { refuse as refuseEdition } from '../edition/messages.js';
import { currentSteps } from '../register/current-events.js';
import type { IssueRequest, Register } from '../register/register.js';
import { checkLabels } from './check-labels.js';
import { currentTerms, numberedParts } from './current-terms.js';
import { numbersNamed } from './find-numbers.js';
import { refuse } from './messages.js';
import { editionOf, type OpenDocuments } from './open-documents.js';
import { openForEntry } from './open-for-entry.js';
import { signAfter, type TellProblem } from './sign-log.js';

export interface IssueOrder {
  readonly edition: string;
  /** The series, and how many of its next free numbers. */
  readonly series?: string;
  readonly count?: number;
  /** Chosen numbers in their place: labels, tickets and ranges of labels, of one series; `why` is then asked for. */
  readonly labels?: readonly string[];
  readonly by: string;
  readonly why?: string;
  /** Asking again with the same key gives the same numbers. */
  readonly key?: string;
}

export interface IssuedNumber extends Numbered {
  /** Why it had been reserved; its issue released it. */
  readonly reserved?: string;
}

/**
 * Takes the next free numbers of a series, or chosen ones, and signs the log. Throws a Refusal: exit 1 where a font cannot
 * cut the labels, 2 for a wrong order, 3 when too few are free, or a chosen one is not to be had. When the log cannot be
 * signed, `notSigned` gets the reason, and the numbers are issued all the same.
 */
export async function issueNumbers(
  workshop: OpenDocuments,
  order: IssueOrder,
  notSigned: TellProblem = () => undefined,
): Promise<IssuedNumber[]> {
  const edition = editionOf(workshop, order.edition);
  const { labels = [], series, count, by, why, key } = order;
  const chosen = labels.length > 0;
  if (chosen === (count !== undefined))
    throw refuse('issue.by-count-or-label', 'issue', { given: chosen ? 'both' : 'none' });
  if (chosen && why === undefined) throw refuse('issue.no-reason', 'issue', {});
  const known = edition.series.map(({ id }) => id);
  if (!chosen && series === undefined) throw refuse('issue.no-series', 'issue', { known });
  if (series !== undefined && !known.includes(series))
    throw refuseEdition('edition.series-unknown', `edition ${order.edition}`, {
      ...{ series: series.slice(0, 60), known },
    });
  const planned = plannedNumbers(edition);
  const register = await openForEntry(workshop);
  try {
    const wanted = chosen ? await chosenNumbers(register, workshop, order, labels) : undefined;
    const from = wanted?.series ?? series!;
    await checkLabels(
      workshop,
      edition,
      planned.filter((one) => one.series === from),
    );
    const parts = numberedParts(workshop, edition);
    const request: IssueRequest = {
      ...{ edition: order.edition, series: from, planned, by, why, key },
      ...{ count: wanted?.labels.length ?? count!, chosen: wanted?.labels },
      ...(parts.length > 0 && { parts }),
      terms: currentTerms(workshop, edition),
    };
    const issued = await register.issue(request);
    await signAfter(workshop, register, notSigned);
    return wanted ? await withReasons(register, order.edition, issued) : issued;
  } finally {
    await register.close();
  }
}

/** The labels that are chosen, each once, and the one series that they are of. */
async function chosenNumbers(
  register: Register,
  workshop: OpenDocuments,
  { edition: id, series }: IssueOrder,
  texts: readonly string[],
): Promise<{ readonly series: string; readonly labels: readonly string[] }> {
  const index = labelIndexOf(editionOf(workshop, id), id);
  const numbers = (
    await numbersNamed(
      register,
      index,
      texts.map((text) => ({ text })),
    )
  ).flat();
  const all = [...new Set([...(series === undefined ? [] : [series]), ...numbers.map((one) => one.series)])];
  if (all.length > 1) throw refuse('issue.several-series', `edition ${id}`, { series: all });
  return { series: all[0]!, labels: [...new Set(numbers.map(({ label }) => label))] };
}

/** Numbers just issued, with the reason for which each was kept back until then. */
async function withReasons(
  register: Register,
  edition: string,
  issued: readonly Numbered[],
): Promise<IssuedNumber[]> {
  const all: IssuedNumber[] = [];
  for (const numbered of issued) {
    const steps = currentSteps(await register.history(edition, numbered.label));
    const at = steps.findIndex(({ event }) => event.type === 'issued');
    const [held, released] = [steps[at - 2]?.event, steps[at - 1]?.event];
    const reserved =
      held?.type === 'withheld' && released?.type === 'released' && released.at === steps[at]!.event.at;
    all.push(reserved ? { ...numbered, reserved: held.why } : numbered);
  }
  return all;
}
