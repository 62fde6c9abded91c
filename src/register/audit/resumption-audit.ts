import type { Problem } from '../../problem.js';
import { type EventOf, isPassing } from '../event.js';
import type { Resumption, Resumptions } from '../resumption/resumptions.js';
import type { Findings } from './finding.js';
import { problem } from './messages.js';

/** What was found at an entry that the register goes past. */
interface FoundEntry {
  readonly digest: string;
  /** Its time, where one can be read. */
  readonly at: string | undefined;
  /** The last time before it. */
  readonly before: string;
  /** Why it is bad; undefined where nothing is, but for its time. */
  reason: Problem | undefined;
}

/**
 * Whether what a register goes past was as bad as it says. Each is a remark in every audit; a fault where the entry is
 * another one, or nothing was wrong with it.
 */
export class ResumptionAudit {
  readonly #resumptions: Resumptions;
  readonly #entries = new Map<number, FoundEntry>();
  readonly #met = new Set<number>();

  constructor(resumptions: Resumptions) {
    this.#resumptions = resumptions;
  }

  /** An entry of the register, before anything else is asked of it. */
  meet(seq: number, leaf: Buffer, at: string | undefined, before: string): void {
    if (this.#resumptions.of(seq) === undefined) return;
    this.#entries.set(seq, { digest: leaf.toString('hex'), at, before, reason: undefined });
  }

  /** Takes what is wrong with an entry that is passed over; says whether it is. */
  excuses(seq: number, reason: Problem): boolean {
    const entry = this.#entries.get(seq);
    if (!entry || !this.#resumptions.passes(seq)) return false;
    entry.reason ??= reason;
    return true;
  }

  /** Whether a `resumed` event is one by which the register goes past what it names. */
  counts(seq: number): boolean {
    return this.#resumptions.all.some((one) => one.seq === seq);
  }

  /** A `resumed` event, in its place. Gives whether its time is in order; `last` is the latest before it. */
  resume({ corrects, at }: EventOf<'resumed'>, seq: number, last: string): boolean {
    if (!this.counts(seq)) return false;
    this.#met.add(seq);
    const entry = corrects === undefined ? undefined : this.#entries.get(corrects);
    // Times begin anew after one that was ahead of the clock.
    return at >= last || (entry !== undefined && isAhead(entry, at) && at >= entry.before);
  }

  /** Once every event was read. */
  conclude(findings: Findings): void {
    for (const { seq, event } of this.#resumptions.all) {
      const { corrects } = event;
      const where = `event ${seq}`;
      // What a checkpoint is worth is found where checkpoints are compared.
      if (corrects === undefined && this.#met.has(seq)) continue;
      const entry = corrects === undefined ? undefined : this.#entries.get(corrects);
      if (!entry || !this.#met.has(seq) || entry.digest !== event.digest) {
        findings.fault(problem('audit.resumed-other', where, { entry: corrects ?? seq }), seq);
        continue;
      }
      const reason = isPassing(event.fault) ? entry.reason : aheadProblem(corrects!, entry, event.at);
      if (reason) findings.remark(passedOver({ seq, event }, reason), seq);
      else findings.fault(problem('audit.resumed-needlessly', where, { entry: corrects! }), seq);
    }
  }
}

const isAhead = ({ at }: FoundEntry, now: string): boolean => at === undefined || at > now;

const aheadProblem = (seq: number, entry: FoundEntry, until: string): Problem | undefined =>
  isAhead(entry, until)
    ? problem('audit.time-ahead', `event ${seq}`, { at: entry.at ?? '-', until })
    : undefined;

function passedOver({ seq, event }: Resumption, reason: Problem): Problem {
  const { corrects, by, witness, why, fault } = event;
  const values = { entry: corrects!, by, witness, why, reason, stands: fault === 'time' ? 'yes' : 'no' };
  return problem('audit.passed-over', `event ${seq}`, values);
}
