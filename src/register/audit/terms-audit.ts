import { foldName, readingsOf } from '../../edition/look-alike.js';
import type { Problem } from '../../problem.js';
import type { TermsEvent } from '../event.js';
import type { EventFields } from '../parse-event-fast.js';
import { amendmentBy } from '../statement/edition-at-closing.js';
import type { Amendment } from '../statement/statement.js';
import { differencesOf } from '../terms/difference.js';
import type { NamedTerms } from '../terms/schema.js';
import { labelsByTerms } from '../terms/terms.js';
import type { Findings } from './finding.js';
import type { LifecycleReplay } from './lifecycle-replay.js';
import { problem } from './messages.js';

/** As many numbers of one edition are named. */
const MOST_NAMED = 5;

interface Holder {
  readonly edition: string;
  readonly name: string;
}

/** The terms of editions as the events say them, held against the numbers, against one another and against documents. */
export class TermsAudit {
  readonly #last = new Map<string, NamedTerms>();
  readonly #amendments = new Map<string, Amendment[]>();
  readonly #unreadable = new Set<string>();
  /** Who has or had each name, as it reads. */
  readonly #holders = new Map<string, Holder>();
  /** The same by each way it may be read. */
  readonly #readers = new Map<string, Holder>();

  /** Finds what is wrong with it; it counts all the same. */
  add(event: TermsEvent, seq: number, findings: Findings): void {
    const { edition, name, terms } = event;
    for (const found of this.#problemsOf(event, seq)) findings.fault(found, seq);
    if (this.#last.get(edition)?.name !== name)
      for (const found of this.#alike(event, seq)) findings.remark(found, seq);
    const before = this.#last.get(edition);
    if (before) this.#amendments.set(edition, [...this.amendments(edition), amendmentBy(event, before)]);
    this.#last.set(edition, { name, terms });
    const reads = foldName(name);
    if (!this.#holders.has(reads)) this.#holders.set(reads, { edition, name });
    for (const reading of readingsOf(name))
      if (!this.#readers.has(reading)) this.#readers.set(reading, { edition, name });
  }

  /** What would be wrong with it, also for the numbers that there are; it does not count. */
  check(event: TermsEvent, seq: number, replay: LifecycleReplay): readonly Problem[] {
    return [
      ...this.#problemsOf(event, seq),
      ...this.#alike(event, seq),
      ...strangeNumbers(event.edition, event, replay),
      ...replay.closedProblem(event.edition, seq),
    ];
  }

  /** Whether an event is of a number that the terms have. */
  checkNumber({ edition, series, number, label }: EventFields, seq: number): readonly Problem[] {
    const recorded = this.#last.get(edition);
    const byTerms = recorded && labelsByTerms(recorded.terms)(series, number);
    if (!byTerms || (byTerms.is === 'label' && byTerms.label === label)) return [];
    return [problem('audit.not-on-terms', `event ${seq}`, { numbers: [`${series} ${number}`], more: 0 })];
  }

  #problemsOf({ type, edition, name }: TermsEvent, seq: number): Problem[] {
    const problems: Problem[] = [];
    const known = this.#last.has(edition);
    if (known && type === 'opened') problems.push(problem('audit.terms-twice', `event ${seq}`, { edition }));
    if (!known && type === 'amended' && !this.#unreadable.has(edition))
      problems.push(problem('audit.terms-missing', `event ${seq}`, { edition }));
    const holder = this.#holders.get(foldName(name));
    if (holder !== undefined && holder.edition !== edition)
      problems.push(problem('audit.name-twice', `event ${seq}`, { edition, name, holder: holder.edition }));
    return problems;
  }

  /** Another edition that a name may be taken for, though it is not the same. */
  #alike({ edition, name }: TermsEvent, seq: number): Problem[] {
    const holder = this.#readsLike(edition, name);
    if (holder === undefined || this.#holders.has(foldName(name))) return [];
    const values = { edition, name, taken: holder.name, holder: holder.edition, entry: seq };
    return [problem('audit.name-reads-alike', `event ${seq}`, values)];
  }

  #readsLike(edition: string, name: string): Holder | undefined {
    for (const reading of readingsOf(name)) {
      const holder = this.#readers.get(reading);
      if (holder !== undefined && holder.edition !== edition) return holder;
    }
    return undefined;
  }

  /** An edition whose opening is passed over: its terms are entered anew as amended. */
  addUnreadable(edition: string): void {
    this.#unreadable.add(edition);
  }

  /** Whether the register has terms of an edition. */
  has(edition: string): boolean {
    return this.#last.has(edition);
  }

  /** The terms of an edition as they are now. */
  last(edition: string): NamedTerms | undefined {
    return this.#last.get(edition);
  }

  /** What changed them, first to last. */
  amendments(edition: string): readonly Amendment[] {
    return this.#amendments.get(edition) ?? [];
  }

  /** `documents`: the terms of every edition, by its id, as today's documents say them. */
  conclude(replay: LifecycleReplay, documents: ReadonlyMap<string, NamedTerms>, findings: Findings): void {
    for (const [edition, recorded] of this.#last) {
      for (const found of strangeNumbers(edition, recorded, replay)) findings.fault(found);
      const document = documents.get(edition);
      if (!document) continue;
      for (const { what, before, now } of differencesOf(recorded, document))
        findings.fault(problem('audit.terms-differ', `edition ${edition}`, { what, before, now }));
    }
    for (const [edition, { name }] of documents) {
      const holder = this.#holders.get(foldName(name));
      if (holder !== undefined && holder.edition !== edition)
        findings.fault(
          problem('audit.name-taken', `editions/${edition}.yaml`, { name, holder: holder.edition }),
        );
      // Of one that the register has, its terms were looked at.
      const alike = holder || this.#last.has(edition) ? undefined : this.#readsLike(edition, name);
      if (alike)
        findings.remark(
          problem('audit.name-not-free', `editions/${edition}.yaml`, {
            ...{ name, taken: alike.name, holder: alike.edition },
          }),
        );
    }
  }
}

/** Numbers of the register that terms do not have, or write in another way. */
function strangeNumbers(edition: string, { terms }: NamedTerms, replay: LifecycleReplay): Problem[] {
  const labelOf = labelsByTerms(terms);
  const strange: string[] = [];
  let more = 0;
  for (const [id, numbers] of replay.seriesOf(edition))
    for (const { number, firstEvent } of numbers.numbers()) {
      const byTerms = labelOf(id, number);
      if (byTerms.is === 'label' && numbers.hasLabel(number, byTerms.label)) continue;
      if (strange.length < MOST_NAMED) strange.push(`${id} ${number} (event ${firstEvent})`);
      else more++;
    }
  if (strange.length === 0) return [];
  return [problem('audit.not-on-terms', `edition ${edition}`, { numbers: strange, more })];
}
