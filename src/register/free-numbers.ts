import type { Numbered } from '../edition/labels.js';
import { refuse } from './messages.js';
import type { IssueOrder } from './requests.js';
import type { AVAILABILITY_EVENTS } from './transitions.js';

/** An event that takes a number, withholds it or releases it. */
export interface AvailabilityEvent {
  readonly number: number;
  readonly type: (typeof AVAILABILITY_EVENTS)[number];
}

/**
 * Which numbers of a series are taken. The series is read once; after that only the events that came since are, so that
 * issuing the last number of many costs what the first did.
 */
export class SeriesAvailability {
  /** Events before this place in the sequence are taken into account. */
  readUpTo = 0;
  /** Issued or void. */
  readonly #taken = new Set<number>();
  readonly #withheld = new Set<number>();
  /** For each list of planned numbers, how many at its start are all taken. */
  readonly #starts = new WeakMap<readonly Numbered[], number>();

  add(events: readonly AvailabilityEvent[]): void {
    for (const { number, type } of events) {
      if (type === 'withheld') this.#withheld.add(number);
      else if (type === 'released') this.#withheld.delete(number);
      else this.#taken.add(number);
    }
  }

  /** The lowest free planned numbers. Throws a Refusal (exit 3) when there are too few. */
  lowestFree({ edition, series, count }: IssueOrder, planned: readonly Numbered[]): Numbered[] {
    let at = this.#starts.get(planned) ?? 0;
    while (at < planned.length && this.#taken.has(planned[at]!.number)) at++;
    this.#starts.set(planned, at);
    const free: Numbered[] = [];
    for (; at < planned.length && free.length < count; at++) {
      const { number, label } = planned[at]!;
      if (!this.#taken.has(number) && !this.#withheld.has(number)) free.push({ series, number, label });
    }
    if (free.length < count) {
      throw refuse('register.too-few-free', whereOf(edition, series), { count, free: free.length });
    }
    return free;
  }
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
