import type { Numbered } from '../edition/labels.js';
import { type Problem, Refusal } from '../problem.js';
import { problem, refuse } from './messages.js';
import type { IssueOrder } from './requests.js';
import type { Resumptions } from './resumption/resumptions.js';
import type { AVAILABILITY_EVENTS } from './transitions.js';

/** An event that takes a number, withholds it or releases it, or retracts one that did. */
export interface AvailabilityEvent {
  readonly seq: number;
  readonly number: number;
  /** The place of what is retracted. */
  readonly corrects: number | null;
  readonly type: (typeof AVAILABILITY_EVENTS)[number];
}

/**
 * Which numbers of a series are taken. The series is read once; after that only the events that came since are, so that
 * issuing the last number of many costs what the first did.
 */
export class SeriesAvailability {
  readonly #labelsTaken: ReadonlyMap<string, number>;
  /** Numbers that such an entry calls issued, by its place. */
  readonly #numbersTaken = new Map<number, number>();
  /** Events before this place in the sequence are taken into account. */
  readUpTo = 0;
  /** Issued: for good. */
  readonly #issued = new Set<number>();
  /** Of numbers not issued: what is void, withheld or released, by its place, so that it can be retracted. */
  readonly #steps = new Map<number, Map<number, 'void' | 'withheld' | 'released'>>();
  /** For each list of planned numbers, how many at its start are all issued. */
  readonly #starts = new WeakMap<readonly Numbered[], number>();

  /** `labelsTaken`: those that an entry which is passed over calls issued, by its place; they are never issued. */
  constructor(labelsTaken: ReadonlyMap<string, number> = new Map()) {
    this.#labelsTaken = labelsTaken;
  }

  /** What is passed over changes nothing; but a number that it calls issued is never issued. */
  add(events: readonly AvailabilityEvent[], passed: Pick<Resumptions, 'passes'>): void {
    for (const { seq: place, number, type, corrects } of events) {
      // A count may come as a text.
      const seq = Number(place);
      const passes = passed.passes(seq);
      if (passes && type === 'issued') this.#numbersTaken.set(number, seq);
      if (passes && type !== 'issued') continue;
      if (type === 'issued') {
        this.#issued.add(number);
        this.#steps.delete(number);
      } else if (!this.#issued.has(number)) {
        const steps = this.#steps.get(number) ?? new Map<number, 'void' | 'withheld' | 'released'>();
        this.#steps.set(number, steps);
        if (type === 'retracted') steps.delete(Number(corrects));
        else steps.set(seq, type);
      }
    }
  }

  /** Whether a number is held back from issue, by being withheld or void. */
  held(number: number): 'void' | 'withheld' | undefined {
    const last = [...(this.#steps.get(number)?.values() ?? [])].at(-1);
    return last === 'released' ? undefined : last;
  }

  issued({ number, label }: Pick<Numbered, 'number' | 'label'>): boolean {
    return this.#issued.has(number) || this.#labelsTaken.has(label);
  }

  /** The place of the entry, passed over, for which alone a number counts as issued. */
  takenBy({ number, label }: Pick<Numbered, 'number' | 'label'>): number | undefined {
    return this.#numbersTaken.get(number) ?? this.#labelsTaken.get(label);
  }

  /** The lowest free planned numbers. Throws a Refusal (exit 3) when there are too few. */
  lowestFree({ edition, series, count }: IssueOrder, planned: readonly Numbered[]): Numbered[] {
    let at = this.#starts.get(planned) ?? 0;
    while (at < planned.length && this.#issued.has(planned[at]!.number)) at++;
    this.#starts.set(planned, at);
    const free: Numbered[] = [];
    for (; at < planned.length && free.length < count; at++) {
      const { number, label } = planned[at]!;
      if (!this.issued({ number, label }) && this.held(number) === undefined)
        free.push({ series, number, label });
    }
    if (free.length < count) {
      throw refuse('register.too-few-free', whereOf(edition, series), { count, free: free.length });
    }
    return free;
  }
}

/**
 * The planned numbers of the labels that are wanted, in the order of the plan. Throws a Refusal (exit 3) with each that
 * is not planned, or issued or void already.
 */
export function chosenNumbers(
  { edition, series }: IssueOrder,
  chosen: readonly string[],
  planned: readonly Numbered[],
  available: SeriesAvailability,
): Numbered[] {
  const wanted = new Set(chosen);
  const found = planned.filter(({ label }) => wanted.has(label));
  const where = whereOf(edition, series);
  const problems: Problem[] = chosen
    .filter((label) => !found.some((one) => one.label === label))
    .map((label) => problem('register.chosen-not-planned', where, { label }));
  for (const { number, label } of found) {
    const entry = available.takenBy({ number, label });
    if (entry !== undefined) problems.push(problem('register.called-issued', `label ${label}`, { entry }));
    else if (available.issued({ number, label }))
      problems.push(problem('register.issued-before', `label ${label}`, {}));
    else if (available.held(number) === 'void')
      problems.push(problem('register.number-void', `label ${label}`, {}));
  }
  if (problems.length > 0) throw new Refusal(problems);
  return found.map(({ number, label }) => ({ series, number, label }));
}

/** Plans split by series. A program that issues one by one passes the same long list each time. */
export class PlansBySeries {
  readonly #known = new WeakMap<readonly Numbered[], Map<string, readonly Numbered[]>>();

  /** The planned numbers of the series asked for. Throws a Refusal (exit 2) when there are none or they do not ascend. */
  of({ edition, series, planned }: IssueOrder): readonly Numbered[] {
    const bySeries = this.#known.get(planned) ?? new Map<string, readonly Numbered[]>();
    const known = bySeries.get(series);
    if (known) return known;
    const own = planned.filter((numbered) => numbered.series === series);
    if (own.length === 0) throw refuse('register.nothing-planned', whereOf(edition, series), {});
    if (own.some(({ number }, i) => i > 0 && number <= own[i - 1]!.number)) {
      throw refuse('register.plan-not-ascending', whereOf(edition, series), {});
    }
    this.#known.set(planned, bySeries.set(series, own));
    return own;
  }
}

const whereOf = (edition: string, series: string): string => `edition ${edition}: series ${series}`;
