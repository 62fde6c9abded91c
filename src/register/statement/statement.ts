import { showInvisible } from '../../documents/invisible.js';
import type { Edition } from '../../documents/schema/edition.js';
import { excludedBy, numbersOf } from '../../edition/labels.js';
import { formatRanges } from '../../edition/number-ranges.js';
import type { NumberStatus, State } from '../lifecycle.js';
import type { RecordedTerms, StoredEvent } from '../register.js';
import { differencesOf, type TermsDifference } from '../terms/difference.js';

/** What became of an edition, stated once it is complete. */
export interface Statement {
  readonly kind: 'statement of edition';
  readonly version: 1;
  readonly edition: { readonly id: string; readonly name: string };
  /** SHA-256 of the meaning of the edition's document. */
  readonly document: string;
  readonly maker: string;
  readonly by: string;
  readonly at: string;
  readonly series: readonly SeriesStatement[];
  /** What of its terms was changed after it was opened, first to last. Left out where nothing was. */
  readonly amendments?: readonly Amendment[];
  /** Customs of the trade that the edition departs from, in words. */
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

/** What a statement is made from. */
export interface StatementFacts {
  readonly id: string;
  readonly edition: Edition;
  readonly document: string;
  readonly maker: string;
  readonly by: string;
  readonly at: string;
  readonly statuses: readonly NumberStatus[];
  /** The last event of each number that is void. */
  readonly voidEvents: ReadonlyMap<string, StoredEvent>;
  readonly amendments?: readonly Amendment[];
  readonly log: { readonly size: number; readonly root: Buffer };
  readonly checkpoint?: string;
  readonly remarks: readonly string[];
}

export const amendmentsOf = ({ events }: RecordedTerms): Amendment[] =>
  events.slice(1).map(({ event }, i) => {
    const { at, by, why } = event;
    return { at, by, why, changes: differencesOf(events[i]!.event, event) };
  });

export function statementOf(facts: StatementFacts): Statement {
  const { id, edition, document, maker, by, at, log, checkpoint, remarks } = facts;
  return {
    kind: 'statement of edition',
    version: 1,
    edition: { id, name: edition.name },
    ...{ document, maker, by, at },
    series: edition.series.map((series) => {
      const own = facts.statuses.filter((s) => s.series === series.id);
      const plan = numbersOf(series);
      const issued = own.filter(({ pieces }) => pieces > 0);
      const states: Partial<Record<State, number>> = {};
      for (const { state } of own) states[state] = (states[state] ?? 0) + 1;
      const known = new Map(own.map((s) => [s.number, s]));
      const never = plan.filter((n) => !known.get(n)?.pieces && known.get(n)?.state !== 'void');
      return {
        ...{ id: series.id, title: series.title, planned: plan.length, issued: issued.length, states },
        delivered: states.delivered ?? 0,
        withheld: states.withheld ?? 0,
        void: states.void ?? 0,
        destroyed: states.destroyed ?? 0,
        recut: own.filter(({ pieces }) => pieces > 1).length,
        excluded: exclusionsOf(series),
        voids: own.flatMap(({ state, label }) => {
          const event = facts.voidEvents.get(label)?.event;
          return state === 'void' ? [{ label, why: event?.why ?? '' }] : [];
        }),
        never: formatRanges(never),
      };
    }),
    ...(facts.amendments && facts.amendments.length > 0 && { amendments: facts.amendments }),
    remarks,
    log: { size: log.size, root: log.root.toString('base64') },
    ...(checkpoint !== undefined && { checkpoint }),
  };
}

function exclusionsOf(series: Edition['series'][number]): SeriesStatement['excluded'] {
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
