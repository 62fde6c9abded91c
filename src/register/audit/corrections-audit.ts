import { type Problem, Refusal } from '../../problem.js';
import { applyEvent, type Life } from '../lifecycle.js';
import { detach, type EventFields } from '../parse-event-fast.js';
import type { RefusalCode } from '../transitions.js';
import { toNumberEvent } from './lifecycle-replay.js';
import { problem } from './messages.js';

/** What only the place of a corrected event decides; all else the first reading finds. */
const BY_PLACE: readonly RefusalCode[] = ['register.no-such-event', 'register.not-last-event'];

const nameOf = ({ edition, label }: Pick<EventFields, 'edition' | 'label'>): string => `${edition} ${label}`;

/**
 * Whether each correction is of the event that it names. The replay of a whole register shares states between numbers
 * and keeps no places; so numbers with corrections, few in any register, are replayed once more, by themselves.
 */
export class CorrectionsAudit {
  readonly #lifecycles = new Map<string, Life | undefined>();
  readonly #reported = new Set<number>();

  get any(): boolean {
    return this.#lifecycles.size > 0;
  }

  /** A correction met in the first reading. */
  note(event: Pick<EventFields, 'edition' | 'label'>, reported: boolean, seq: number): void {
    this.#lifecycles.set(detach(nameOf(event)), undefined);
    if (reported) this.#reported.add(seq);
  }

  /** Each event in the second reading. */
  add(event: EventFields, seq: number): readonly Problem[] {
    const name = nameOf(event);
    if (!this.#lifecycles.has(name)) return [];
    const { life, problems } = this.#tryEvent(event, seq);
    if (life) this.#lifecycles.set(name, life);
    return this.#reported.has(seq) ? [] : problems;
  }

  /** The problems that an event would give in the second reading; changes nothing. */
  check(event: EventFields, seq: number): readonly Problem[] {
    return this.#lifecycles.has(nameOf(event)) ? this.#tryEvent(event, seq).problems : [];
  }

  #tryEvent(event: EventFields, seq: number): { life?: Life; problems: readonly Problem[] } {
    try {
      const before = this.#lifecycles.get(nameOf(event));
      return { life: applyEvent(before, toNumberEvent(event), { seq }), problems: [] };
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      const problems = error.problems
        .filter(({ code }) => BY_PLACE.some((one) => one === code))
        .map((rule) => problem('audit.rule-broken', `event ${seq}`, { place: rule.where, rule }));
      return { problems };
    }
  }
}
