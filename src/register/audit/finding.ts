import type { Problem } from '../../problem.js';
import { problem } from './messages.js';

/** A fault means that the register cannot be believed as it is; a remark is for a person to look at. */
export type Grade = 'fault' | 'remark';

export interface Finding extends Problem {
  readonly grade: Grade;
  /** Place of the event in the sequence, from 0, where the finding is about one event. */
  readonly seq?: number;
}

/** A register of another kind altogether would have a fault in every event; this many show that. */
const MOST_LISTED = 1000;

/** Collects findings up to a limit; the rest is only counted. */
export class Findings {
  readonly #listed: Finding[] = [];
  #unlisted = 0;
  #unlistedFault = false;

  fault(found: Problem, seq?: number): void {
    this.#add(found, 'fault', seq);
  }

  remark(found: Problem, seq?: number): void {
    this.#add(found, 'remark', seq);
  }

  #add(found: Problem, grade: Grade, seq: number | undefined): void {
    if (this.#listed.length < MOST_LISTED) {
      this.#listed.push({ ...found, grade, ...(seq !== undefined && { seq }) });
      return;
    }
    this.#unlisted++;
    this.#unlistedFault ||= grade === 'fault';
  }

  /** Findings about events first, in their sequence; then those about the register as a whole. */
  all(): readonly Finding[] {
    const sorted = [...this.#listed].sort(
      (a, b) => (a.seq ?? Number.MAX_SAFE_INTEGER) - (b.seq ?? Number.MAX_SAFE_INTEGER),
    );
    if (this.#unlisted === 0) return sorted;
    const unlisted = problem('audit.too-many', 'audit', { n: this.#unlisted });
    // Remarks do not become a fault by being many.
    return [...sorted, { ...unlisted, grade: this.#unlistedFault ? 'fault' : 'remark' }];
  }
}
