import type { Numbered } from '../../edition/labels.js';
import { foldName, readingsOf } from '../../edition/look-alike.js';
import { type Problem, Refusal } from '../../problem.js';
import { isOfNumber, type RegisterEvent } from '../event.js';
import { differencesOf, type TermsDifference } from './difference.js';
import { problem } from './messages.js';
import type { EditionTerms, NamedTerms } from './schema.js';
import { labelsByTerms } from './terms.js';

/** So many problems of one kind are named: after them the rest says nothing new. */
const MOST_PROBLEMS = 10;

/** Holds documents against the terms of the register. Throws a Refusal (exit 3) with each term that differs. */
export function holdTerms(edition: string, recorded: NamedTerms, asked: NamedTerms): void {
  const differences = differencesOf(recorded, asked);
  if (differences.length > 0)
    throw new Refusal(differences.slice(0, MOST_PROBLEMS).map((one) => differenceProblem(edition, one)));
}

const differenceProblem = (edition: string, difference: TermsDifference): Problem =>
  problem('terms.differ', `edition ${edition}`, { edition, ...difference });

/** An edition by its id, and a name it has or once had, from a place in the sequence on. */
export interface KnownName {
  readonly edition: string;
  readonly name: string;
  readonly seq: number;
}

/** The first of these names that is this one but for what nobody sees or says. */
export function firstOfName(name: string, names: readonly KnownName[]): KnownName | undefined {
  const reads = foldName(name);
  return earliest(names.filter((one) => foldName(one.name) === reads));
}

/**
 * A name belongs to the edition that had it first, for good. Throws a Refusal (exit 3) for a new name that looks like one of
 * another edition, and for one that an edition has although another had it before: some other program entered it. Names that
 * were entered before they were compared this closely stay.
 */
export function checkName(edition: string, name: string, known: readonly KnownName[]): void {
  const where = `edition ${edition}`;
  const others = known.filter((one) => one.edition !== edition);
  const own = firstOfName(
    name,
    known.filter((one) => one.edition === edition),
  );
  const holder = own ? firstOfName(name, others) : firstReadLike(name, others);
  if (!holder) return;
  const values = { name, taken: holder.name, holder: holder.edition, since: holder.seq };
  if (!own) throw new Refusal([problem('terms.name-taken', where, values)]);
  if (holder.seq < own.seq)
    throw new Refusal([problem('terms.name-of-another', where, { ...values, entry: own.seq })]);
}

function firstReadLike(name: string, names: readonly KnownName[]): KnownName | undefined {
  const readings = new Set(readingsOf(name));
  return earliest(names.filter((one) => readingsOf(one.name).some((reading) => readings.has(reading))));
}

const earliest = (names: readonly KnownName[]): KnownName | undefined =>
  names.reduce<KnownName | undefined>(
    (first, one) => (first && first.seq < one.seq ? first : one),
    undefined,
  );

/** Throws a Refusal (exit 3) where numbers that exist would have another label on these terms, or none. */
export function checkExisting(edition: string, terms: EditionTerms, events: readonly RegisterEvent[]): void {
  const labelOf = labelsByTerms(terms);
  const problems: Problem[] = [];
  const seen = new Set<string>();
  for (const event of events) {
    if (!isOfNumber(event) || seen.has(event.label)) continue;
    seen.add(event.label);
    const { series, number, label } = event;
    const byTerms = labelOf(series, number);
    const where = `edition ${edition}`;
    if (byTerms.is === 'label') {
      if (byTerms.label !== label)
        problems.push(problem('terms.label-changes', where, { series, number, label, now: byTerms.label }));
      continue;
    }
    const reason = REASONS[byTerms.is];
    problems.push(problem('terms.label-goes', where, { series, number, label, reason }));
  }
  if (problems.length > 0) throw new Refusal(problems.slice(0, MOST_PROBLEMS));
}

const REASONS = { 'no such series': 'series', 'outside the series': 'range', excluded: 'excluded' } as const;

/** Throws a Refusal (exit 3) for a number that the terms do not have, or write in another way. */
export function checkOnTerms(edition: string, terms: EditionTerms, numbers: readonly Numbered[]): void {
  const labelOf = labelsByTerms(terms);
  for (const { series, number, label } of numbers) {
    const byTerms = labelOf(series, number);
    if (byTerms.is !== 'label' || byTerms.label !== label)
      throw new Refusal([problem('terms.not-on-terms', `edition ${edition}`, { series, number, label })]);
  }
}
