import { type Problem, problem } from '../problem.js';
import { designProblems } from './check/design.js';
import { editionProblems } from './check/edition.js';
import { partProblems } from './check/part.js';
import { registerUrlFault } from './check/register-url.js';
import { stationProblems } from './check/station.js';
import { quoted } from './quote.js';
import type { Shelves } from './shelves.js';

/**
 * Everything one schema alone cannot see: documents that name one another, and figures that must agree. Only sound
 * documents are looked at; a name that leads to an unsound one counts as known, for its own problems are told already.
 */
export function crosscheck(shelves: Shelves, builtInFonts: ReadonlySet<string>): Problem[] {
  const problems: Problem[] = [];
  const { workshop } = shelves;
  const fault = workshop?.value.register && registerUrlFault(workshop.value.register, 'refused');
  if (fault) problems.push(problem(workshop?.places.at('register') ?? '', ...fault));
  const fonts = new Set(builtInFonts);
  for (const own of Object.keys(shelves.workshop?.value.fonts ?? {})) {
    if (builtInFonts.has(own)) {
      const where = shelves.workshop?.places.atKey('fonts', own) ?? '';
      problems.push(problem(where, `burin carries a font ${quoted(own)} already.`, 'Choose another id.'));
    }
    fonts.add(own);
  }
  for (const { value, places } of shelves.part.sound.values()) {
    problems.push(...partProblems(value, places.at, shelves.material.ids));
  }
  for (const { value, places } of shelves.station.sound.values()) {
    problems.push(...stationProblems(value, places.at));
  }
  for (const { value, places } of shelves.design.sound.values()) {
    // without the workshop's own list, no font can be called unknown
    const known = shelves.workshop ? fonts : undefined;
    problems.push(...designProblems(value, places.at, shelves, known));
  }
  for (const { value, places } of shelves.edition.sound.values()) {
    problems.push(...editionProblems(value, places.at, shelves.design.ids));
  }
  return problems;
}
