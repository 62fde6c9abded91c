import type { Problem } from '../problem.js';
import { designProblems } from './check/design.js';
import { editionProblems } from './check/edition.js';
import { partProblems } from './check/part.js';
import { pieceFileProblems } from './check/piece-files.js';
import { registerUrlProblem } from './check/register-url.js';
import { stationProblems } from './check/station.js';
import { problem } from './messages.js';
import type { ParsedDocuments } from './parsed-documents.js';
import { plainText } from './quote.js';

/**
 * Everything one schema alone cannot see: documents that name one another, and values that must agree. Only sound
 * documents are looked at; a name that leads to an unsound one counts as known, for its own problems are reported already.
 */
export function crosscheck(parsed: ParsedDocuments, builtInFonts: ReadonlySet<string>): Problem[] {
  const problems: Problem[] = [];
  const { workshop } = parsed;
  if (workshop?.value.register) {
    const fault = registerUrlProblem(workshop.places.at('register'), workshop.value.register, 'refused');
    if (fault) problems.push(fault);
  }
  const fonts = new Set(builtInFonts);
  for (const own of Object.keys(workshop?.value.fonts ?? {})) {
    if (builtInFonts.has(own)) {
      const where = workshop?.places.atKey('fonts', own) ?? '';
      problems.push(problem('documents.font-id-taken', where, { id: plainText(own) }));
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
    const known = workshop ? fonts : undefined;
    problems.push(...designProblems(value, places.at, parsed, known));
  }
  for (const { value, places } of parsed.edition.sound.values()) {
    problems.push(...editionProblems(value, places.at, parsed.design.ids));
    const designs = value.designs.flatMap((id) => parsed.design.sound.get(id)?.value ?? []);
    problems.push(...pieceFileProblems(designs, places.at));
  }
  return problems;
}
