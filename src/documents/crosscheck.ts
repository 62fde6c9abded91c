import { type Problem, problem } from '../problem.js';
import { designProblems } from './check/design.js';
import { editionProblems } from './check/edition.js';
import { partProblems } from './check/part.js';
import { registerUrlFault } from './check/register-url.js';
import { stationProblems } from './check/station.js';
import type { ParsedDocuments } from './parsed-documents.js';
import { quoted } from './quote.js';

/**
 * Everything one schema alone cannot see: documents that name one another, and figures that must agree. Only sound
 * documents are looked at; a name that leads to an unsound one counts as known, for its own problems are told already.
 */
export function crosscheck(parsed: ParsedDocuments, builtInFonts: ReadonlySet<string>): Problem[] {
  const problems: Problem[] = [];
  const { workshop } = parsed;
  const fault = workshop?.value.register && registerUrlFault(workshop.value.register, 'refused');
  if (fault) problems.push(problem(workshop?.places.at('register') ?? '', ...fault));
  const fonts = new Set(builtInFonts);
  for (const own of Object.keys(parsed.workshop?.value.fonts ?? {})) {
    if (builtInFonts.has(own)) {
      const where = parsed.workshop?.places.atKey('fonts', own) ?? '';
      problems.push(problem(where, `burin carries a font ${quoted(own)} already.`, 'Choose another id.'));
    }
    fonts.add(own);
  }
  for (const { value, places } of parsed.part.sound.values()) {
    problems.push(...partProblems(value, places.at, parsed.material.ids));
  }
  for (const { value, places } of parsed.station.sound.values()) {
    problems.push(...stationProblems(value, places.at));
  }
  for (const { value, places } of parsed.design.sound.values()) {
    // without the workshop's own list, no font can be called unknown
    const known = parsed.workshop ? fonts : undefined;
    problems.push(...designProblems(value, places.at, parsed, known));
  }
  for (const { value, places } of parsed.edition.sound.values()) {
    problems.push(...editionProblems(value, places.at, parsed.design.ids));
  }
  return problems;
}
