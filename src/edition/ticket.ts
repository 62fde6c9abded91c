import type { Problem } from '../problem.js';
import { checkOf, checkWriter } from './check-character.js';
import { type FoundNumber, findLabel, type LabelIndex } from './label-index.js';
import { excludedBy, labelOf } from './labels.js';
import { problem } from './messages.js';

/**
 * A number as written on the tray beside its piece while it is worked on, such as `NL-MAIN-0012-K`: initials of the
 * edition, series, number, and a check character (ISO/IEC 7064 MOD 37-2) over the letters and digits before it. Labels
 * have no check character: a label is what a piece must carry.
 */
export const ticketOf = (edition: string, series: string, number: number): string =>
  ticketWriter(edition, series)(number);

/** The same for many numbers of one series: what all their tickets have is made once. */
export function ticketWriter(edition: string, series: string): (number: number) => string {
  const before = `${initials(edition)}-${series.toUpperCase()}-`;
  const check = checkWriter('MOD 37-2', before.replaceAll('-', ''));
  return (number) => {
    const digits = String(number).padStart(4, '0');
    return `${before}${digits}-${check(digits)}`;
  };
}

/** An edition named with one word keeps it. */
const initials = (edition: string): string => {
  const words = edition.split('-').filter((word) => word !== '');
  return (words.length === 1 ? words[0]! : words.map((word) => word[0]).join('')).toUpperCase();
};

/** The number of an edition that someone names by its label or by its ticket. */
export function findNumber(index: LabelIndex, text: string): FoundNumber {
  const isTicket = !index.byLabel.has(text) && TICKET.test(text.trim());
  return isTicket ? findTicket(index, text) : findLabel(index, text);
}

const TICKET = /^[A-Za-z0-9]+-[A-Za-z0-9-]+-[A-Za-z0-9]{4,5}-[A-Za-z0-9*]$/;

/** Finds a number by its ticket. The problem says what is wrong with a mistyped one. */
export function findTicket(index: LabelIndex, given: string): FoundNumber {
  const text = given.trim().toUpperCase();
  const { editionId } = index;
  const where = `ticket ${given.trim().slice(0, 90)}`;
  const failed = (found: Problem): FoundNumber => ({ ok: false, problem: found });
  if (!TICKET.test(text))
    return failed(problem('edition.not-a-ticket', where, { initials: initials(editionId) }));
  const parts = text.split('-');
  const [check, digits] = [parts.pop()!, parts.pop()!];
  // First: without it nothing else on the ticket can be believed.
  if (checkOf('MOD 37-2', [...parts, digits].join('')) !== check)
    return failed(
      /[^0-9]/.test(digits)
        ? problem('edition.ticket-letter', where, { digits })
        : problem('edition.ticket-check', where, {}),
    );
  const [code, ...series] = parts;
  if (code !== initials(editionId)) {
    const values = { initials: code!, edition: editionId };
    return failed(problem('edition.ticket-of-other-edition', where, values));
  }
  const id = series.join('-').toLowerCase();
  const number = Number(digits);
  const numbered = index.planned.find((n) => n.series === id && n.number === number);
  if (!numbered) return failed(notPlanned(index, where, id, number));
  // One number has one ticket: 12 in five digits is none.
  const ticket = ticketOf(editionId, id, number);
  if (ticket !== text) return failed(problem('edition.ticket-padding', where, { ticket }));
  return { ok: true, numbered };
}

function notPlanned({ edition, editionId }: LabelIndex, where: string, id: string, number: number): Problem {
  const series = edition.series.find((s) => s.id === id);
  const why = series && excludedBy(series, number)?.why;
  if (!series || why === undefined || number < series.from || number > series.to)
    return problem('edition.ticket-not-planned', where, { edition: editionId });
  return problem('edition.ticket-excluded', where, {
    number,
    series: id,
    label: labelOf(series, number),
    why,
  });
}
