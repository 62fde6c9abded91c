import type { Edition } from '../documents/schema/edition.js';
import { type Problem, problem } from '../problem.js';
import { checkOf } from './check-character.js';
import { type Numbered, planned } from './labels.js';
import { nearMissesOf, nearMissWords } from './near-miss.js';

/**
 * A number as written on the tray beside its piece while it is worked on, such as `NL-MAIN-0012-K`: initials of the
 * edition, series, number, and a check character (ISO/IEC 7064 MOD 37-2) over the letters and figures before it.
 * Labels have no check character, and a label is what a piece must carry.
 */
export function ticketOf(edition: string, series: string, number: number): string {
  const text = `${initials(edition)}-${series.toUpperCase()}-${String(number).padStart(4, '0')}`;
  return `${text}-${checkOf('MOD 37-2', text.replaceAll('-', ''))}`;
}

/** An edition named with one word keeps it. */
const initials = (edition: string): string => {
  const words = edition.split('-').filter((word) => word !== '');
  return (words.length === 1 ? words[0]! : words.map((word) => word[0]).join('')).toUpperCase();
};

export type ReadNumber =
  | { readonly ok: true; readonly numbered: Numbered }
  | { readonly ok: false; readonly problem: Problem };

/** The number of an edition that someone names by its label or by its ticket. */
export function numberedFrom(text: string, edition: Edition, editionId: string): ReadNumber {
  const known = knownOf(edition);
  const numbered = known.byLabel.get(text);
  if (numbered) return { ok: true, numbered };
  if (TICKET.test(text.trim())) return fromTicket(text.trim(), known.all, editionId);
  const misses = nearMissesOf(known.all)(text);
  const where = `edition ${editionId}`;
  const what = `has no label "${text.slice(0, 60)}".`;
  const cure =
    misses.length === 0
      ? 'Write labels as `burin register` lists them, or give the ticket.'
      : `Is it ${misses.slice(0, 3).map(nearMissWords).join(', or ')}?`;
  return { ok: false, problem: problem(where, what, cure) };
}

/** Reads a ticket of this edition; whoever mistypes one is told what is wrong with it. */
export function parseTicket(text: string, edition: Edition, editionId: string): ReadNumber {
  return fromTicket(text.trim(), knownOf(edition).all, editionId);
}

const TICKET = /^[A-Za-z0-9]+-[A-Za-z0-9-]+-[A-Za-z0-9]{4,5}-[A-Za-z0-9*]$/;

function fromTicket(text: string, all: readonly Numbered[], editionId: string): ReadNumber {
  const refused = (what: string, cure = 'Type it again from the tray, or give the label.'): ReadNumber => ({
    ok: false,
    problem: problem(`ticket ${text.slice(0, 90)}`, what, cure),
  });
  const parts = text.toUpperCase().split('-');
  if (!TICKET.test(text)) {
    return refused('This is not a ticket.', `One of this edition begins ${initials(editionId)}- .`);
  }
  const [check, figures] = [parts.pop()!, parts.pop()!];
  const wanted = checkOf('MOD 37-2', [...parts, figures].join(''));
  // First, for without it nothing else on the ticket can be believed.
  if (wanted !== check) {
    return refused(
      /[^0-9]/.test(figures)
        ? `The number ${figures} holds a letter: O for 0, or I for 1.`
        : 'Its check character does not fit: a character is wrong, or two stand swapped.',
    );
  }
  const [code, ...series] = parts;
  if (code !== initials(editionId)) {
    return refused(
      `It is of another edition: ${code}.`,
      `Name its edition, or take a ticket of ${editionId}.`,
    );
  }
  const id = series.join('-').toLowerCase();
  const numbered = all.find((n) => n.series === id && n.number === Number(figures));
  if (!numbered) return refused(`Edition ${editionId} plans no such number.`);
  // One number, one ticket: 12 in five figures is none.
  const wanting = ticketOf(editionId, id, numbered.number);
  if (wanting !== text.toUpperCase())
    return refused('Its number is not filled to four figures.', `Is it ${wanting}?`);
  return { ok: true, numbered };
}

interface Known {
  readonly all: readonly Numbered[];
  readonly byLabel: ReadonlyMap<string, Numbered>;
}

/** Kept beside the document: a hundred thousand labels are not laid out again for each line of a list. */
const laidOut = new WeakMap<Edition, Known>();

function knownOf(edition: Edition): Known {
  const before = laidOut.get(edition);
  if (before) return before;
  const all = planned(edition);
  const known = { all, byLabel: new Map(all.map((n) => [n.label, n])) };
  laidOut.set(edition, known);
  return known;
}
