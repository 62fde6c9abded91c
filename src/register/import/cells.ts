import { isFormula } from '../../documents/csv/write-csv.js';
import { showInvisible } from '../../documents/invisible.js';
import { oddLetters } from '../../edition/look-alike.js';
import type { Problem } from '../../problem.js';
import { LATEST_PLACE_HOURS } from '../clock.js';
import { readsAsSamePerson, samePerson } from '../person.js';
import { problem } from './messages.js';

/** What is wrong with the day or moment of an event that is past; nothing for an empty cell. */
export function dateProblems(on: string, now: Date, where: string): Problem[] {
  if (on === '') return [];
  if (!/^\d{4}-\d\d-\d\d(T\d\d:\d\d:\d\d\.\d{3}Z)?$/.test(on))
    return [problem('import.date-unreadable', where, { text: showInvisible(on.slice(0, 40)) })];
  const isDay = on.length === 10;
  const day = new Date(isDay ? `${on}T00:00:00.000Z` : on);
  if (Number.isNaN(day.getTime()) || !day.toISOString().startsWith(on.slice(0, 10)))
    return [problem('import.date-not-in-calendar', where, { date: on })];
  // A day begins earlier in the east, as for any other event (`occurrence.ts`).
  const latest = now.getTime() + (isDay ? LATEST_PLACE_HOURS * 3_600_000 : 0);
  return day.getTime() > latest ? [problem('import.date-in-future', where, { date: on })] : [];
}

/** What is wrong with the name of a witness, who must be someone other than those who recorded it. */
export function witnessProblems(witness: string, recorders: readonly string[], where: string): Problem[] {
  const by = recorders.find((recorder) => readsAsSamePerson(recorder, witness));
  if (by === undefined) return [];
  return samePerson(by, witness)
    ? [problem('import.witness-is-recorder', where, {})]
    : [problem('import.witness-like-recorder', where, { witness: showInvisible(witness), by })];
}

const longestIn = (column: string): number => (column === 'by' || column === 'witness' ? 120 : 200);

/** What is wrong with the text of a cell, whatever it says. */
export function textProblems(column: string, text: string, where: string): Problem[] {
  const problems: Problem[] = [];
  if (isFormula(text))
    problems.push(problem('import.formula', where, { column, text: showInvisible(text.slice(0, 40)) }));
  // The label is compared with the planned one, which shows such letters better.
  if (column !== 'label')
    for (const odd of oddLetters(text))
      problems.push(
        odd.kind === 'invisible'
          ? problem('import.invisible', where, { column, characters: odd.characters })
          : problem('import.mixed-scripts', where, {
              ...{ column, script: odd.script, character: odd.character },
            }),
      );
  if (/[\p{Cc}\u2028\u2029]/u.test(text))
    problems.push(problem('import.control-character', where, { column }));
  const most = longestIn(column);
  if (text.length > most)
    problems.push(problem('import.too-long', where, { column, length: text.length, most }));
  return problems;
}
