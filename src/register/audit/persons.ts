import { differences, nameAsRead, oddLetters } from '../../edition/look-alike.js';
import type { Findings } from './finding.js';
import { own } from './quick.js';

/** As many different names as a register is asked to compare. */
const MOST = 50_000;

/** Names of those who told or saw something, each with the first event that has it. */
export class Persons {
  readonly #first = new Map<string, number>();
  /** Most events are told by who told the one before. */
  #last = '';

  take(name: string | undefined, seq: number): void {
    if (name === undefined || name === this.#last) return;
    this.#last = own(name);
    if (this.#first.has(name) || this.#first.size >= MOST) return;
    this.#first.set(this.#last, seq);
  }

  /** Names that another would be taken for, or that hold letters that pretend. */
  look(findings: Findings): void {
    const read = new Map<string, string>();
    for (const [name, seq] of this.#first) {
      const odd = oddLetters(name);
      if (odd.length > 0)
        findings.event(seq, 'look-alike-name', `The name "${name}" ${odd.join(' and ')}.`, CURE, 'remark');
      const as = nameAsRead(name);
      const other = read.get(as);
      if (other === undefined) {
        read.set(as, name);
        continue;
      }
      const what = `The name "${name}" reads like "${other}" and is another: it differs in ${differences(other, name).join(', ') || 'its letters'}.`;
      findings.event(seq, 'look-alike-name', what, CURE, 'remark');
    }
  }
}

const CURE = 'Ask whether one person or two are meant; a witness must be a second person.';
