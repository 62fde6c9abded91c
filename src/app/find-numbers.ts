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

export type FoundNumbers =
  | { readonly ok: true; readonly numbered: readonly Numbered[] }
  | { readonly ok: false; readonly problem: Problem };

/**
 * The numbers that each text names: a label, a ticket or a range of labels; or what is wrong with it (exit 2). Asks the
 * register before the document: a label that it has keeps its number.
 */
export async function lookUpNumbers(
  register: Pick<Register, 'history'>,
  index: LabelIndex,
  named: readonly NamedNumbers[],
): Promise<FoundNumbers[]> {
  const all: FoundNumbers[] = [];
  for (const { text, where } of named) {
    const known = numberOf(await register.history(index.editionId, text));
    const found = known ? { ok: true as const, numbered: [known] } : findNumbers(index, text);
    if (found.ok || where === undefined) all.push(found);
    else all.push({ ok: false, problem: placedIn(where, found.problem) });
  }
  return all;
}

/** The same, where all must be right. Throws a Refusal (exit 2) with what is wrong with any of them. */
export async function numbersNamed(
  register: Pick<Register, 'history'>,
  index: LabelIndex,
  named: readonly NamedNumbers[],
): Promise<(readonly Numbered[])[]> {
  const all = await lookUpNumbers(register, index, named);
  const problems = all.flatMap((one) => (one.ok ? [] : [one.problem]));
  if (problems.length > 0) throw new Refusal(problems);
  return all.map((one) => (one.ok ? one.numbered : []));
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
