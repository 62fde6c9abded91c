import { foldName } from '../../edition/look-alike.js';
import type { TermsEvent } from '../event.js';
import { differencesOf } from '../terms/difference.js';
import type { NamedTerms } from '../terms/schema.js';
import { labelsByTerms } from '../terms/terms.js';
import type { Findings } from './finding.js';
import type { LifecycleReplay } from './lifecycle-replay.js';
import { problem } from './messages.js';

/** As many numbers of one edition are named. */
const MOST_NAMED = 5;

/** The terms of editions as the events say them, held against the numbers, against one another and against documents. */
export class TermsAudit {
  readonly #last = new Map<string, NamedTerms>();
  /** Who has or had each name, as it reads. */
  readonly #holders = new Map<string, { readonly edition: string; readonly name: string }>();

  add({ type, edition, name, terms }: TermsEvent, seq: number, findings: Findings): void {
    const known = this.#last.has(edition);
    if (known && type === 'opened')
      findings.fault(problem('audit.terms-twice', `event ${seq}`, { edition }), seq);
    if (!known && type === 'amended')
      findings.fault(problem('audit.terms-missing', `event ${seq}`, { edition }), seq);
    this.#last.set(edition, { name, terms });
    const reads = foldName(name);
    const holder = this.#holders.get(reads);
    if (holder === undefined) this.#holders.set(reads, { edition, name });
    else if (holder.edition !== edition)
      findings.fault(
        problem('audit.name-twice', `event ${seq}`, { edition, name, holder: holder.edition }),
        seq,
      );
  }

  /** Whether the register has terms of an edition. */
  has(edition: string): boolean {
    return this.#last.has(edition);
  }

  /** The terms of an edition as they are now. */
  last(edition: string): NamedTerms | undefined {
    return this.#last.get(edition);
  }

  /** `documents`: the terms of every edition, by its id, as today's documents say them. */
  conclude(replay: LifecycleReplay, documents: ReadonlyMap<string, NamedTerms>, findings: Findings): void {
    for (const [edition, recorded] of this.#last) {
      this.#compareNumbers(edition, recorded, replay, findings);
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
    }
  }

  #compareNumbers(edition: string, { terms }: NamedTerms, replay: LifecycleReplay, findings: Findings): void {
    const labelOf = labelsByTerms(terms);
    const strange: string[] = [];
    let more = 0;
    for (const [id, numbers] of replay.seriesOf(edition))
      for (const { number } of numbers.numbers()) {
        const byTerms = labelOf(id, number);
        if (byTerms.is === 'label' && numbers.hasLabel(number, byTerms.label)) continue;
        if (strange.length < MOST_NAMED) strange.push(`${id} ${number}`);
        else more++;
      }
    if (strange.length > 0)
      findings.fault(problem('audit.not-on-terms', `edition ${edition}`, { numbers: strange, more }));
  }
}
