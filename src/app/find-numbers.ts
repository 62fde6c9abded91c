import type { LabelIndex } from '../edition/label-index.js';
import { findNumbers } from '../edition/label-range.js';
import type { Numbered } from '../edition/labels.js';
import { type Problem, placedIn, Refusal } from '../problem.js';
import { isOfNumber } from '../register/event.js';
import type { Register, StoredEvent } from '../register/register.js';
import { refuse } from './messages.js';

/** A text that names numbers, and where it stands, for messages. */
export interface NamedNumbers {
  readonly text: string;
  readonly where?: string;
}

/**
 * The numbers that each text names: a label, a ticket or a range of labels. Asks the register before the document: a label
 * that it has keeps its number. Throws a Refusal (exit 2) with what is wrong with any of them.
 */
export async function numbersNamed(
  register: Pick<Register, 'history'>,
  index: LabelIndex,
  named: readonly NamedNumbers[],
): Promise<(readonly Numbered[])[]> {
  const problems: Problem[] = [];
  const all: (readonly Numbered[])[] = [];
  for (const { text, where } of named) {
    const known = numberOf(await register.history(index.editionId, text));
    const found = known ? { ok: true as const, numbered: [known] } : findNumbers(index, text);
    if (found.ok) all.push(found.numbered);
    else problems.push(where === undefined ? found.problem : placedIn(where, found.problem));
  }
  if (problems.length > 0) throw new Refusal(problems);
  return all;
}

/** The one number that a text names by label or ticket, with its events; a range is none. */
export async function numberNamed(
  register: Pick<Register, 'history'>,
  index: LabelIndex,
  text: string,
): Promise<{ readonly numbered: Numbered; readonly history: readonly StoredEvent[] }> {
  const [found] = await numbersNamed(register, index, [{ text }]);
  const [numbered, ...more] = found as readonly [Numbered, ...Numbered[]];
  if (more.length > 0) throw refuse('record.one-number', `edition ${index.editionId}`, { text });
  return { numbered, history: await register.history(index.editionId, numbered.label) };
}

function numberOf([first]: readonly StoredEvent[]): Numbered | undefined {
  if (!first || !isOfNumber(first.event)) return undefined;
  const { series, number, label } = first.event;
  return { series, number, label };
}
