import type { Edition } from '../documents/schema/edition.js';
import { type Numbered, planned } from '../edition/labels.js';
import { parseNumbers } from '../edition/selection.js';
import { type Problem, problem, Refusal } from '../problem.js';
import type { NumberStatus, State } from '../register/lifecycle.js';
import { openRegister } from '../register/open.js';
import { registerDeps } from './issue.js';
import { editionOf, registerPlace, type Workshop } from './workshop.js';

/** Which pieces of an edition a job is for. */
export interface Wanted {
  readonly labels?: readonly string[];
  readonly series?: string;
  /** Such as `1-5,9`. */
  readonly numbers?: string;
}

/** The pieces wanted, in the edition's order. Throws a Refusal (exit 2) for what the edition does not have. */
export function select(edition: Edition, editionId: string, wanted: Wanted): Numbered[] {
  const all = planned(edition);
  const problems: Problem[] = [];
  const where = `edition ${editionId}`;
  const picked = new Set<Numbered>();
  const byLabel = new Map(all.map((n) => [n.label, n]));
  for (const label of wanted.labels ?? []) {
    const found = byLabel.get(label);
    if (found) picked.add(found);
    else
      problems.push(
        problem(
          where,
          `has no label "${label.slice(0, 60)}".`,
          'Write labels as `burin register` lists them.',
        ),
      );
  }
  if (wanted.series !== undefined) {
    const inSeries = new Map(all.filter((n) => n.series === wanted.series).map((n) => [n.number, n]));
    if (inSeries.size === 0) {
      const known = edition.series.map((s) => s.id).join(', ');
      problems.push(problem(where, `has no series ${wanted.series.slice(0, 60)}.`, `It has: ${known}.`));
    } else if (wanted.numbers === undefined) {
      for (const n of inSeries.values()) picked.add(n);
    } else {
      const selection = parseNumbers(wanted.numbers, '--numbers');
      problems.push(...selection.problems);
      const absent = selection.numbers.filter((n) => !inSeries.has(n));
      for (const n of selection.numbers) if (inSeries.has(n)) picked.add(inSeries.get(n)!);
      if (absent.length > 0)
        problems.push(
          problem(
            '--numbers',
            `${listed(absent.map(String))} not in series ${wanted.series}.`,
            'Ask for its numbers only.',
          ),
        );
    }
  } else if (wanted.numbers !== undefined) {
    problems.push(problem('--numbers', 'No series is named.', 'Add --series.'));
  } else if (!wanted.labels || wanted.labels.length === 0) {
    problems.push(problem(where, 'No piece is named.', 'Give --labels, or --series and --numbers.'));
  }
  if (problems.length > 0) throw new Refusal(2, problems);
  return all.filter((n) => picked.has(n));
}

/** What the register knows of an edition, by label. */
export async function standingsOf(workshop: Workshop, editionId: string): Promise<Map<string, NumberStatus>> {
  editionOf(workshop, editionId);
  const register = await openRegister(registerPlace(workshop), registerDeps);
  try {
    return new Map((await register.statuses(editionId)).map((s) => [s.label, s]));
  } finally {
    await register.close();
  }
}

/** A piece to be cut, less the parts of it that carry the number already. */
export interface ToCut extends Numbered {
  readonly done?: ReadonlySet<string>;
}

const HAS_ITS_NUMBER = 'For a second piece, record scrapped, destroyed and recut first.';

/** Why a number in a state is not cut, and what is to be done first. */
const NOT_CUT: { readonly [S in State]?: readonly [what: string, cure: string] } = {
  planned: ['not issued', 'Issue numbers with `burin issue` before cutting them.'],
  withheld: ['withheld', 'Record them released first, or leave them out.'],
  engraved: ['already engraved', HAS_ITS_NUMBER],
  inspected: ['already engraved and inspected', HAS_ITS_NUMBER],
  delivered: ['already engraved and delivered', HAS_ITS_NUMBER],
  scrapped: ['scrapped', 'Record them destroyed, with a witness, and recut first.'],
  destroyed: ['destroyed', 'Record them recut first: that opens the second piece.'],
  void: ['void', 'Leave them out; a void number is never cut.'],
};

/** The pieces with what is left to cut of each. Throws a Refusal (exit 3) when one may not be cut now. */
export function mayBeCut(
  editionId: string,
  pieces: readonly Numbered[],
  known: ReadonlyMap<string, NumberStatus>,
): ToCut[] {
  const stateOf = ({ label }: Numbered): State => known.get(label)?.state ?? 'planned';
  const problems = Object.entries(NOT_CUT).flatMap(([state, [what, cure]]) => {
    const labels = pieces.filter((piece) => stateOf(piece) === state).map((piece) => piece.label);
    return labels.length > 0 ? [problem(`edition ${editionId}`, `${listed(labels)} ${what}.`, cure)] : [];
  });
  if (problems.length > 0) throw new Refusal(3, problems);
  return pieces.map((piece) => {
    const engraved = known.get(piece.label)!.parts.filter((part) => part.state === 'engraved');
    return { ...piece, done: new Set(engraved.flatMap(({ part }) => part ?? [])) };
  });
}

/** "1 is", "1, 2 and 3 are", the rest counted when there are many. */
function listed(names: readonly string[]): string {
  if (names.length === 1) return `${names[0]} is`;
  const shown = names.slice(0, 8);
  const more = names.length - shown.length;
  if (more > 0) return `${shown.join(', ')} and ${more} more are`;
  return `${shown.slice(0, -1).join(', ')} and ${shown[shown.length - 1]} are`;
}
