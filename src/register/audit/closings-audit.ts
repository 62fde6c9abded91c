import type { Problem } from '../../problem.js';
import { type EventOf, fromLeaf } from '../event.js';
import type { MerkleAccumulator } from '../log/merkle-accumulator.js';
import type { RawEvent } from '../register.js';
import type { Resumptions } from '../resumption/resumptions.js';
import { type EditionAtClosing, statementDigest, statementOf } from '../statement/statement.js';
import type { LifecycleReplay } from './lifecycle-replay.js';
import { problem } from './messages.js';
import type { TermsAudit } from './terms-audit.js';

type Closed = EventOf<'closed'>;

/** What is known of a closing once the events before it were read. */
interface MetClosing {
  readonly seq: number;
  readonly event: Closed;
  /** Whether the events before it make a statement with its hash. */
  readonly fits: boolean;
}

/**
 * Holds the statement of each closing against the events before it. A closing says which root the log had when its
 * statement was made, so what is asked of the log is known before the first event is read.
 */
export class ClosingsAudit {
  readonly #resumptions: Resumptions;
  /** Roots by the size of their log, for each size that a closing names. */
  readonly #roots = new Map<number, string | undefined>();
  /** Why each number came to be void, by edition and by series and number. */
  readonly #reasons = new Map<string, Map<string, string>>();
  /** The last event of a number, by edition. */
  readonly #lastOf = new Map<string, number>();
  /** Editions with an event that is not sound: what they come to is not known. */
  readonly #unsound = new Set<string>();
  #allUnsound = false;
  readonly #met: MetClosing[] = [];

  constructor(closings: readonly RawEvent[], resumptions: Resumptions) {
    this.#resumptions = resumptions;
    for (const { seq, body, leaf } of closings) {
      const stated = statedIn(seq, { body, leaf });
      if (stated) this.#roots.set(stated.size, undefined);
    }
  }

  /** The log after each event, and before the first. */
  noteLog(log: MerkleAccumulator): void {
    if (this.#roots.has(log.size)) this.#roots.set(log.size, log.root().toString('hex'));
  }

  /** An event of a number, which a statement made after it covers. */
  noteNumber(edition: string, seq: number): void {
    this.#lastOf.set(edition, seq);
  }

  noteVoid(edition: string, number: string, why: string): void {
    const reasons = this.#reasons.get(edition) ?? new Map<string, string>();
    this.#reasons.set(edition, reasons.set(number, why));
  }

  /** An event that is wrong, of an edition; of any where that is not known. */
  noteUnsound(edition: string | undefined): void {
    if (edition === undefined) this.#allUnsound = true;
    else this.#unsound.add(edition);
  }

  /** A closing in its place. */
  meet(event: Closed, seq: number, replay: LifecycleReplay, terms: TermsAudit): void {
    const { edition } = event;
    if (this.#allUnsound || this.#unsound.has(edition)) return;
    this.#met.push({ seq, event, fits: this.#fits(event, replay, terms) });
  }

  #fits({ edition, by, statement, stated }: Closed, replay: LifecycleReplay, terms: TermsAudit): boolean {
    const last = terms.last(edition);
    if (!stated || !last || (this.#lastOf.get(edition) ?? -1) >= stated.size) return false;
    const numbers = replay.seriesOf(edition);
    const reasons = this.#reasons.get(edition);
    const was: EditionAtClosing = {
      ...{ terms: last, amendments: terms.amendments(edition) },
      *numbersOf(series) {
        for (const { number, state, pieces } of numbers.get(series)?.numbers() ?? [])
          yield { number, state, pieces, why: reasons?.get(`${series} ${number}`) };
      },
    };
    return statementDigest(statementOf({ edition, by, stated }, was)) === statement;
  }

  /** `known`: hashes of statements whose files are there. */
  *conclude(known: ReadonlySet<string>): Generator<FoundOfClosing> {
    for (const { seq, event, fits } of this.#met) {
      const { edition, stated, statement } = event;
      const where = `event ${seq}`;
      const because =
        stated === undefined ? 'older' : this.#resumptions.passesLater(edition, seq) ? 'later' : undefined;
      if (because !== undefined) {
        if (known.has(statement)) continue;
        yield {
          seq,
          grade: 'remark',
          found: problem('audit.statement-unknown', where, { edition, because }),
        };
      } else if (!fits || stated!.size > seq || this.#roots.get(stated!.size) !== stated!.root)
        yield { seq, grade: 'fault', found: problem('audit.statement-differs', where, { edition }) };
    }
  }
}

export interface FoundOfClosing {
  readonly seq: number;
  readonly grade: 'fault' | 'remark';
  readonly found: Problem;
}

function statedIn(seq: number, raw: Pick<RawEvent, 'body' | 'leaf'>): Closed['stated'] {
  try {
    const event = fromLeaf(seq, raw);
    return event.type === 'closed' ? event.stated : undefined;
  } catch {
    // The audit names it in its place.
    return undefined;
  }
}
