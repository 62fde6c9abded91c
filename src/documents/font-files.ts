import type { Problem } from '../problem.js';
import { readInside } from './files.js';
import { problem } from './messages.js';
import { plainText } from './quote.js';
import type { Sound } from './read-document.js';

/** Far above any outline font for one script; keeps a mistaken path from being read into memory. */
export const LARGEST_FONT_BYTES = 32_000_000;

/** The workshop's own font files: inside the folder, there, and of a form that is read. */
export async function fontFileProblems(root: string, workshop: Sound<'workshop'>): Promise<Problem[]> {
  const problems: Problem[] = [];
  for (const [id, { file }] of Object.entries(workshop.value.fonts ?? {})) {
    const where = workshop.places.at('fonts', id, 'file');
    const fault = pathProblem(where, file);
    if (fault) {
      problems.push(fault);
      continue;
    }
    const read = await readInside(root, file, LARGEST_FONT_BYTES);
    if (!read.ok) problems.push(namedIn(where, read.problem));
  }
  return problems;
}

/** A problem of a file, at the place in a document that names it. */
export const namedIn = (where: string, problem: Problem): Problem => ({
  ...problem,
  where: `${where}: ${problem.where}`,
});

function pathProblem(where: string, path: string): Problem | undefined {
  const file = plainText(path);
  if (/^[/\\~]|^[A-Za-z]:/.test(path) || path.split('/').includes('..'))
    return problem('documents.font-path-outside', where, { file });
  if (path.includes('\\')) return problem('documents.font-path-backslash', where, { file });
  const ending = /\.([^./]*)$/.exec(path)?.[1]?.toLowerCase();
  if (ending === 'woff2') return problem('documents.font-woff2', where, {});
  if (ending === 'ttf' || ending === 'otf' || ending === 'woff') return undefined;
  return problem('documents.font-form', where, { file });
}
