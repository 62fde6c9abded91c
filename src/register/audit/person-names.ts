import { namePhrases, oddLetters } from '../../edition/look-alike.js';
import { detach } from '../parse-event-fast.js';
import { personReadings } from '../person.js';
import type { Findings } from './finding.js';
import { problem } from './messages.js';

/** As many different names are compared. */
const MOST_NAMES = 50_000;

/** Names of those who recorded or witnessed something, each with the first event that has it. */
export class PersonNames {
  readonly #firstEvents = new Map<string, number>();
  #firstLeftOut: number | undefined;
  /** Most events have the name of the event before. */
  #last = '';

  add(name: string | undefined, seq: number): void {
    if (name === undefined || name === this.#last) return;
    this.#last = detach(name);
    if (this.#firstEvents.has(name)) return;
    if (this.#firstEvents.size >= MOST_NAMES) {
      this.#firstLeftOut ??= seq;
      return;
    }
    this.#firstEvents.set(this.#last, seq);
  }

  /** Remarks on names that another would be taken for, or that hold letters of another script. */
  compare(findings: Findings): void {
    if (this.#firstLeftOut !== undefined) {
      const where = `event ${this.#firstLeftOut}`;
      findings.fault(problem('audit.names-not-compared', where, { most: MOST_NAMES }), this.#firstLeftOut);
    }
    const byReading = new Map<string, string>();
    for (const [name, seq] of this.#firstEvents) {
      const where = `event ${seq}`;
      for (const odd of oddLetters(name))
        findings.remark(
          odd.kind === 'invisible'
            ? problem('audit.name-invisible', where, { name, characters: odd.characters })
            : problem('audit.name-mixed-scripts', where, {
                ...{ name, script: odd.script, character: odd.character },
              }),
          seq,
        );
      const readings = personReadings(name);
      const other = readings.map((reading) => byReading.get(reading)).find((found) => found !== undefined);
      if (other === undefined) for (const reading of readings) byReading.set(reading, name);
      else {
        const values = { name, other, differences: namePhrases(other, name) };
        findings.remark(problem('audit.name-alike', where, values), seq);
      }
    }
  }
}
