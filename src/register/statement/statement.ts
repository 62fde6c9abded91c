import { hash } from 'node:crypto';
import { showInvisible } from '../../documents/invisible.js';
import type { Series } from '../../documents/schema/edition.js';
import { excludedBy, numbersOf } from '../../edition/labels.js';
import { formatRanges } from '../../edition/number-ranges.js';
import type { EventOf, Stated } from '../event.js';
import { STATES, type State } from '../lifecycle.js';
import { checkpointText } from '../log/note.js';
import type { TermsDifference } from '../terms/difference.js';
import type { NamedTerms } from '../terms/schema.js';
import { labelsByTerms, seriesByTerms } from '../terms/terms.js';

/**
 * What became of an edition, stated once it is complete. The register has the hash of its bytes, and makes them again from
 * its events: what is said here, and in which order, never changes within one version.
 */
export interface Statement {
  readonly kind: 'statement of edition';
  /** 1 until a register could make it again. */
  readonly version: 1 | 2;
  readonly edition: { readonly id: string; readonly name: string };
  /** SHA-256 of the meaning of the edition's document. */
  readonly document: string;
  readonly maker: string;
  readonly by: string;
  readonly at: string;
  readonly series: readonly SeriesStatement[];
  /** What of its terms was changed after it was opened, first to last. Left out where nothing was. */
  readonly amendments?: readonly Amendment[];
  /** Customs of the trade that the edition departs from, and entries that are passed over, in words. */
  readonly remarks: readonly string[];
  readonly log: { readonly size: number; readonly root: string };
  /** The signed checkpoint of that log, where a key was there to sign it. */
  readonly checkpoint?: string;
}

/** A deliberate change of the terms of an edition. */
export interface Amendment {
  readonly at: string;
  readonly by: string;
  readonly why: string;
  readonly changes: readonly TermsDifference[];
}

export interface SeriesStatement {
  readonly id: string;
  readonly title: string;
  readonly planned: number;
  readonly issued: number;
  readonly delivered: number;
  readonly withheld: number;
  readonly void: number;
  readonly destroyed: number;
  /** Numbers that are on a second piece, after the first was destroyed. */
  readonly recut: number;
  /** How many numbers are in each state. */
  readonly states: Readonly<Partial<Record<State, number>>>;
  readonly excluded: readonly { readonly numbers: string; readonly why: string }[];
  readonly voids: readonly { readonly label: string; readonly why: string }[];
  /** Planned, and never to be issued. */
  readonly never: string;
}

/** A number as it was at the closing. */
export interface StatedNumber {
  readonly number: number;
  readonly state: State;
  readonly pieces: number;
  /** Why it is void. */
  readonly why?: string;
}

/** An edition as the events before its closing leave it. */
export interface EditionAtClosing {
  readonly terms: NamedTerms;
  readonly amendments: readonly Amendment[];
  /** The numbers of a series that have an event, in any order. */
  numbersOf(series: string): Iterable<StatedNumber>;
}

/** What a closing says, and its statement is made from. */
export type StatedClosing = Pick<EventOf<'closed'>, 'edition' | 'by'> & { readonly stated: Stated };

export function statementOf({ edition, by, stated }: StatedClosing, was: EditionAtClosing): Statement {
  const { at, document, maker, remarks, size, root, signature } = stated;
  const { terms, amendments } = was;
  const labelOf = labelsByTerms(terms.terms);
  const rootBytes = Buffer.from(root, 'hex');
  const origin = signature?.split(' ')[1] ?? '';
  return {
    kind: 'statement of edition',
    version: 2,
    edition: { id: edition, name: terms.name },
    ...{ document, maker, by, at },
    series: seriesByTerms(terms.terms).map((series) =>
      seriesStatement(series, [...was.numbersOf(series.id)], (number) => {
        const byTerms = labelOf(series.id, number);
        return byTerms.is === 'label' ? byTerms.label : `number ${number}`;
      }),
    ),
    ...(amendments.length > 0 && { amendments }),
    remarks,
    log: { size, root: rootBytes.toString('base64') },
    ...(signature !== undefined && {
      checkpoint: `${checkpointText({ origin, size, root: rootBytes })}\n${signature}\n`,
    }),
  };
}

/** The bytes of its file in JSON. */
export const statementJson = (statement: Statement): string => `${JSON.stringify(statement, null, 2)}\n`;

/** SHA-256, hex, of that file, as the closing has it. */
export const statementDigest = (statement: Statement): string =>
  hash('sha256', statementJson(statement), 'hex');

function seriesStatement(
  series: Series,
  numbers: readonly StatedNumber[],
  labelOf: (number: number) => string,
): SeriesStatement {
  const own = [...numbers].sort((a, b) => a.number - b.number);
  const plan = numbersOf(series);
  const states: Partial<Record<State, number>> = {};
  for (const state of STATES) {
    const n = own.filter((one) => one.state === state).length;
    if (n > 0) states[state] = n;
  }
  const settled = new Set(
    own.flatMap(({ number, pieces, state }) => (pieces > 0 || state === 'void' ? [number] : [])),
  );
  return {
    ...{ id: series.id, title: series.title, planned: plan.length },
    ...{ issued: own.filter(({ pieces }) => pieces > 0).length, states },
    delivered: states.delivered ?? 0,
    withheld: states.withheld ?? 0,
    void: states.void ?? 0,
    destroyed: states.destroyed ?? 0,
    recut: own.filter(({ pieces }) => pieces > 1).length,
    excluded: exclusionsOf(series),
    voids: own.flatMap(({ number, state, why }) =>
      state === 'void' ? [{ label: labelOf(number), why: why ?? '' }] : [],
    ),
    never: formatRanges(plan.filter((n) => !settled.has(n))),
  };
}

function exclusionsOf(series: Series): SeriesStatement['excluded'] {
  const byReason = new Map<string, number[]>();
  for (let n = series.from; n <= series.to; n++) {
    const why = excludedBy(series, n)?.why;
    if (why === undefined) continue;
    const known = byReason.get(why);
    if (known) known.push(n);
    else byReason.set(why, [n]);
  }
  return [...byReason].map(([why, numbers]) => ({ numbers: formatRanges(numbers), why }));
}

/** The statement to print and keep with the papers of the edition. */
export function statementText(statement: Statement, sha256: string): string[] {
  const { edition, maker, by, at, series, amendments = [], remarks, log, checkpoint } = statement;
  const lines = [`Statement of edition: ${edition.name}`, maker, '', `Closed ${at.slice(0, 10)} by ${by}.`];
  for (const one of series) {
    lines.push(
      '',
      one.title,
      ...countsOf(one).map(([noun, n]) => `  ${noun.padEnd(34)}${String(n).padStart(6)}`),
    );
    for (const { numbers, why } of one.excluded) lines.push(`  Not in the series: ${numbers}: ${why}`);
    for (const { label, why } of one.voids) lines.push(`  Void: ${label}: ${why}`);
    if (one.never !== '') lines.push(`  Planned and never issued: ${one.never}`);
  }
  if (amendments.length > 0) lines.push('', 'Amended after the first number was issued');
  for (const one of amendments) {
    lines.push(`  ${one.at.slice(0, 10)} by ${one.by}: ${one.why}`);
    lines.push(...one.changes.map(({ what, before, now }) => `    ${what}: ${now}, before: ${before}`));
  }
  if (remarks.length > 0) lines.push('', 'Remarks', ...remarks.map((r) => `  ${r}`));
  lines.push(
    '',
    `The register held ${log.size} events, with the root`,
    `  ${log.root}`,
    checkpoint === undefined ? 'There was no key to sign it.' : 'signed as follows:',
    ...(checkpoint ?? '')
      .split('\n')
      .filter((line) => line !== '')
      .map((line) => `  ${line}`),
    '',
    'SHA-256 of this statement in its JSON form, entered in the register at the closing:',
    `  ${sha256}`,
  );
  return lines.map(showInvisible);
}

const countsOf = (one: SeriesStatement): (readonly [noun: string, n: number])[] => {
  const all = [
    ['planned', one.planned],
    ['issued', one.issued],
    ['delivered', one.delivered],
    ['withheld', one.withheld],
    ['void', one.void],
    ['destroyed, not made again', one.destroyed],
    ['made again after destruction', one.recut],
  ] as const;
  return all.filter(([noun, n]) => n > 0 || noun === 'planned' || noun === 'issued' || noun === 'delivered');
};
