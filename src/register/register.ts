import { z } from 'zod';
import { id } from '../documents/schema/scalar.js';
import type { Numbered } from '../edition/labels.js';
import { problem, Refusal, refuse } from '../problem.js';
import { said } from './event.js';
import type { Standing, State } from './state.js';

/** Asks for the next free numbers of a series. */
export interface IssueRequest {
  readonly edition: string;
  readonly series: string;
  /** What the edition document plans, ascending in each series; other series may be among it. Not changed later. */
  readonly planned: readonly Numbered[];
  readonly count: number;
  readonly by: string;
  readonly why?: string;
  /** Asking again with the same key gives the same numbers. */
  readonly key?: string;
}

/** The register of numbers. Every answer is on disk before it is given; whatever is refused has left nothing. */
export interface Register {
  issue(request: IssueRequest): Promise<Numbered[]>;
  /** The numbers of an edition, in the order they were issued. */
  issued(edition: string): Promise<Standing[]>;
  stateOf(edition: string, label: string): Promise<State | undefined>;
  close(): Promise<void>;
}

export interface Surroundings {
  readonly now: () => Date;
  /** How long a busy register is waited for before anyone is told, ms. */
  readonly patienceMs?: number;
}

export const PATIENCE_MS = 30_000;
export const WHY_ISSUED = 'next free number';

const issueRequest = z.object({
  edition: id,
  series: id,
  count: z.number().int().min(1).max(99_999),
  by: said(120),
  why: said(200).default(WHY_ISSUED),
  key: said(200).optional(),
});

/** A request that was read, with the planned numbers of its own series only. */
export type IssueOrder = z.infer<typeof issueRequest> & { readonly planned: readonly Numbered[] };

export function readRequest(request: IssueRequest): IssueOrder {
  const read = issueRequest.safeParse(request);
  if (!read.success) {
    throw new Refusal(
      2,
      read.error.issues.map((issue) =>
        problem(`issue: ${issue.path.join('.')}`, `${issue.message}.`, 'Correct it and ask again.'),
      ),
    );
  }
  return { ...read.data, planned: plannedIn(request) };
}

/** Lists already looked through: a program issuing one by one passes the same long list each time. */
const looked = new WeakMap<readonly Numbered[], Map<string, readonly Numbered[]>>();

function plannedIn({ edition, series, planned }: IssueRequest): readonly Numbered[] {
  const before = looked.get(planned) ?? new Map<string, readonly Numbered[]>();
  const known = before.get(series);
  if (known) return known;
  const own = planned.filter((numbered) => numbered.series === series);
  const where = `edition ${edition}: series ${series}`;
  if (own.length === 0) throw refuse(2, where, 'No number is planned.', 'Name a series of the edition.');
  for (let i = 1; i < own.length; i++) {
    if (own[i]!.number <= own[i - 1]!.number) {
      throw refuse(2, where, 'The planned numbers do not ascend.', 'Give each number once, lowest first.');
    }
  }
  looked.set(planned, before.set(series, own));
  return own;
}
