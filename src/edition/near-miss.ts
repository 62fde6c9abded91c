import { isPlain, withoutInvisible } from '../documents/invisible.js';
import type { Phrase } from '../problem.js';
import { differencesBy, type Fold, foldAll } from './differences.js';
import { labelParts, otherNumerals, swappedNeighbours, unusualRomans } from './label-slips.js';
import type { Numbered } from './labels.js';
import { toLatin } from './look-alike.js';
import { type NearMissReason, reasonPhrase } from './near-miss-reason.js';
import { nearMisses } from './phrases.js';

/** A label that a text may be meant for. */
export interface LabelCandidate extends Numbered {
  /** Why the number is excluded, where it is: no piece bears the label then. */
  readonly excluded?: string;
}

/** A label that a text which is not a label was probably meant for. */
export interface NearMiss {
  readonly candidate: LabelCandidate;
  readonly reason: NearMissReason;
}

/** Finds near misses of a text; none for a text that is a label. */
export type NearMissFinder = (text: string) => NearMiss[];

/** A near miss as a part of a message. */
export function nearMissPhrase({ candidate, reason }: NearMiss): Phrase {
  const { label, excluded } = candidate;
  const values = { label, reason: reasonPhrase(reason) };
  return excluded === undefined
    ? nearMisses.phrase('edition.near-miss', values)
    : nearMisses.phrase('edition.near-miss-excluded', { ...values, why: excluded });
}

/** Where more labels than these are near, none is a suspicion any more. */
const MOST = 5;
const LONGEST_TEXT = 200;

/** Each for both texts: what they then differ by is no difference. */
const FOLDS: readonly Fold[] = [
  ['invisible', withoutInvisible],
  ['form', (t) => (isPlain(t) ? t : t.normalize('NFKC'))],
  ['script', toLatin],
  [
    'words',
    (t) =>
      t
        .replace(/^\s*(?:no|nr|nº|number|piece|#)\s*[.:]?\s*(?=[0-9IVXLCDM])/i, '')
        .replace(/(?<=[0-9IVXLCDM])\s+(?:out\s+)?of\s+(?=[0-9IVXLCDM])/i, '/')
        .replace(/(?<=[0-9])(?:st|nd|rd|th)(?![a-z])/i, ''),
  ],
  ['blanks', (t) => t.replace(/\s+/gu, '')],
  // Small l only among digits; in a word it is a letter.
  [
    'i-and-1',
    (t) =>
      t.replace(/(?<![a-km-zA-Z])l+(?![a-km-zA-Z])/g, (l) => '1'.repeat(l.length)).replace(/[Ii|]/g, '1'),
  ],
  ['case', (t) => t.toUpperCase()],
  ['o-and-0', (t) => t.replaceAll('O', '0')],
  [
    's-and-5',
    (t) =>
      t.replace(/(?<![A-Z])[SB]+(?![A-Z])/g, (digitRun) =>
        digitRun.replaceAll('S', '5').replaceAll('B', '8'),
      ),
  ],
  ['zeros', (t) => t.replace(/(?<![0-9])0+(?=[0-9])/g, '')],
  ['signs', (t) => t.replace(/[\p{P}\p{S}]+/gu, '/').replace(/^\/|\/$/g, '')],
];
/** The same for abbreviations, such as `AP` for `A.P.`; a dot can also be between two numbers. */
const FOLDS_WITH_DOTS: readonly Fold[] = [['dots', (t) => t.replace(/(?<=\p{L})\./gu, '')], ...FOLDS];

const fold = (text: string): string => foldAll(FOLDS, text);
const foldDots = (text: string): string => foldAll(FOLDS_WITH_DOTS, text);

/** Candidates by what they come to after folding. */
class FoldedLabels {
  readonly exact = new Map<string, LabelCandidate>();
  readonly whole = new Map<string, LabelCandidate[]>();
  readonly withoutDots = new Map<string, LabelCandidate[]>();
  /** By what is before the total. */
  readonly heads = new Map<string, LabelCandidate[]>();
  /** By what is behind the prefix. */
  readonly tails = new Map<string, LabelCandidate[]>();
  readonly prefixes = new Set<string>();
  /** What stands between number and total, and the total. */
  readonly totals = new Map<string, readonly [joiner: string, total: string]>();

  constructor(candidates: readonly LabelCandidate[]) {
    for (const candidate of candidates) {
      const { label } = candidate;
      this.exact.set(label, candidate);
      push(this.whole, fold(label), candidate);
      if (label.includes('.')) push(this.withoutDots, foldDots(label), candidate);
      const parts = labelParts(label);
      if (!parts) continue;
      const { head, joiner, total, prefix } = parts;
      if (head !== undefined) push(this.heads, fold(head), candidate);
      if (joiner !== undefined && total !== undefined) this.totals.set(`${joiner}${total}`, [joiner, total]);
      if (prefix === '') continue;
      push(this.tails, fold(label.slice(prefix.length)), candidate);
      this.prefixes.add(foldDots(prefix));
    }
  }
}

function push(map: Map<string, LabelCandidate[]>, key: string, candidate: LabelCandidate): void {
  const known = map.get(key);
  if (known) known.push(candidate);
  else map.set(key, [candidate]);
}

/**
 * Finds near misses of labels. The labels are folded once, at the first question; each question then costs the same
 * however many labels there are.
 */
export function nearMissFinder(candidates: readonly LabelCandidate[]): NearMissFinder {
  let folded: FoldedLabels | undefined;
  return (text) => {
    folded ??= new FoldedLabels(candidates);
    if (folded.exact.has(text) || text.trim() === '' || text.length > LONGEST_TEXT) return [];
    return find(text, folded);
  };
}

function find(text: string, folded: FoldedLabels): NearMiss[] {
  const found = new Map<LabelCandidate, NearMissReason>();
  const add = (
    some: readonly LabelCandidate[] | undefined,
    reasonFor: (candidate: LabelCandidate) => NearMissReason | undefined,
  ): void => {
    if (some === undefined || some.length > MOST) return;
    for (const candidate of some) {
      const reason = reasonFor(candidate);
      if (reason && !found.has(candidate)) found.set(candidate, reason);
    }
  };
  const partsOf = (candidate: LabelCandidate) => labelParts(candidate.label)!;

  add(folded.whole.get(fold(text)), ({ label }) => ({
    ...{ kind: 'differs', differences: differencesBy(FOLDS, text, label) },
  }));
  add(folded.withoutDots.get(foldDots(text)), ({ label }) => ({
    ...{ kind: 'differs', differences: differencesBy(FOLDS_WITH_DOTS, text, label) },
  }));
  for (const { written, meant, label } of unusualRomans(text))
    add(folded.whole.get(fold(label)), () => ({ kind: 'unusual-roman', written, meant }));
  for (const { swapped, label } of swappedNeighbours(text)) {
    const meant = folded.exact.get(label);
    add(meant && [meant], () => ({ kind: 'swapped', swapped }));
  }
  for (const { written, meant, label } of otherNumerals(text))
    add(folded.whole.get(fold(label)), () => ({ kind: 'other-numerals', written, meant }));
  const parts = labelParts(text);
  if (!parts) return asList(found);
  const { head, total, prefix } = parts;
  if (head !== undefined && total !== undefined)
    add(folded.heads.get(fold(head)), (candidate) => {
      const meant = partsOf(candidate).total!;
      return meant === total ? undefined : { kind: 'other-total', written: total, meant };
    });
  add(folded.heads.get(fold(text)), (c) => ({ kind: 'total-missing', meant: partsOf(c).total! }));
  for (const [joiner, ending] of folded.totals.values())
    if (joiner !== '' && text.endsWith(ending) && text.length > ending.length)
      add(folded.whole.get(fold(`${text.slice(0, -ending.length)}${joiner}${ending}`)), () => ({
        ...{ kind: 'differs', differences: ['signs'] },
      }));
  add(folded.tails.get(fold(text)), (c) => ({ kind: 'prefix-missing', meant: partsOf(c).prefix.trim() }));
  if (prefix.trim() !== '') {
    const [written, tail] = [prefix.trim(), fold(text.slice(prefix.length))];
    add(folded.tails.get(tail), (candidate) => {
      const meant = partsOf(candidate).prefix.trim();
      return fold(meant) === fold(written) ? undefined : { kind: 'other-prefix', written, meant };
    });
    if (folded.prefixes.has(foldDots(prefix)))
      add(folded.whole.get(tail), () => ({ kind: 'prefix-not-wanted', written }));
  }
  return asList(found);
}

const asList = (found: ReadonlyMap<LabelCandidate, NearMissReason>): NearMiss[] =>
  [...found].slice(0, MOST).map(([candidate, reason]) => ({ candidate, reason }));
