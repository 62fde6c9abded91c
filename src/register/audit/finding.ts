/** What an audit can find. Each word is explained, with what to do, in `docs/audit.md`. */
export type FindingKind =
  | 'unreadable'
  | 'store-damaged'
  | 'gap-in-sequence'
  | 'text-and-hash-differ'
  | 'not-an-event'
  | 'time-runs-back'
  | 'request-twice'
  | 'rule-broken'
  | 'label-clash'
  | 'log-shorter'
  | 'root-differs'
  | 'frontier-differs'
  | 'checkpoint-unreadable'
  | 'signature-wrong'
  | 'number-missing'
  | 'not-planned'
  | 'label-changed'
  | 'no-document'
  | 'look-alike-name'
  | 'store-not-looked-at'
  | 'too-many';

/** A fault means that the register cannot be believed as it is; a remark is for a person to look at. */
export type Grade = 'fault' | 'remark';

export interface Finding {
  readonly kind: FindingKind;
  readonly grade: Grade;
  /** Place of the event in the sequence, from 0, where one event is meant. */
  readonly seq?: number;
  readonly where: string;
  readonly what: string;
  readonly cure: string;
}

/** A register of another kind altogether would have a fault in every event; this many say so. */
const MOST = 1000;

/** Findings in the order they were made; the rest is only counted. */
export class Findings {
  readonly #kept: Finding[] = [];
  #left = 0;
  #faultLeft = false;

  add(finding: Finding): void {
    if (this.#kept.length < MOST) this.#kept.push(finding);
    else {
      this.#left++;
      this.#faultLeft ||= finding.grade === 'fault';
    }
  }

  event(seq: number, kind: FindingKind, what: string, cure: string, grade: Grade = 'fault'): void {
    this.add({ kind, grade, seq, where: `event ${seq}`, what, cure });
  }

  /** What stands in the register first, first; what is said of it as a whole, after. */
  all(): readonly Finding[] {
    const sorted = [...this.#kept].sort(
      (a, b) => (a.seq ?? Number.MAX_SAFE_INTEGER) - (b.seq ?? Number.MAX_SAFE_INTEGER),
    );
    if (this.#left === 0) return sorted;
    const what = `${this.#left} further findings are not listed.`;
    return [
      ...sorted,
      {
        kind: 'too-many',
        // Remarks do not become a fault by being many.
        grade: this.#faultLeft ? 'fault' : 'remark',
        where: 'audit',
        what,
        cure: 'See to those listed, then ask again.',
      },
    ];
  }
}
