import { type Problem, problem } from '../problem.js';
import { readInside } from './files.js';
import { quoted } from './quote.js';
import type { Sound } from './read.js';

/** Far above any outline font for one script; keeps a mistaken path from being read into memory. */
export const LARGEST_FONT_BYTES = 32_000_000;

/** The workshop's own font files: inside the folder, there, and of a form that is read. */
export async function fontFileProblems(root: string, workshop: Sound<'workshop'>): Promise<Problem[]> {
  const problems: Problem[] = [];
  for (const [id, { file }] of Object.entries(workshop.value.fonts ?? {})) {
    const where = workshop.places.at('fonts', id, 'file');
    const fault = pathFault(file);
    if (fault) {
      problems.push(problem(where, ...fault));
      continue;
    }
    const read = await readInside(root, file, LARGEST_FONT_BYTES);
    if (!read.ok) problems.push(problem(where, `${quoted(file)}: ${read.problem.what}`, read.problem.cure));
  }
  return problems;
}

function pathFault(file: string): [what: string, cure: string] | undefined {
  const cure = 'Copy the font into the workshop and give its path from there.';
  if (/^[/\\~]|^[A-Za-z]:/.test(file)) return [`${quoted(file)} is not a path inside the workshop.`, cure];
  if (file.includes('\\'))
    return [`${quoted(file)} has backslashes.`, 'Write the path with forward slashes.'];
  if (file.split('/').includes('..')) return [`${quoted(file)} leaves the workshop.`, cure];
  const ending = /\.([^./]*)$/.exec(file)?.[1]?.toLowerCase();
  if (ending === 'woff2') return ['WOFF2 files are not read.', 'Use the TTF, OTF or WOFF file of the font.'];
  if (ending === 'ttf' || ending === 'otf' || ending === 'woff') return undefined;
  return [
    `${quoted(file)} is not a TTF, OTF or WOFF file.`,
    'Give an outline font file in one of these forms.',
  ];
}
