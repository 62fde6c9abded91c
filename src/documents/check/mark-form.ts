import { type Problem, problem } from '../../problem.js';
import type { At } from '../place.js';
import { figure, quoted } from '../quote.js';
import type { Cutter } from '../schema/cutter.js';
import {
  isLettered,
  type LetteredMark,
  type Mark,
  type MotifMark,
  type PatternMark,
} from '../schema/design.js';

/** Keys of one mark that must agree with one another. */
export function formProblems(mark: Mark, at: At): Problem[] {
  if (mark.kind === 'pattern') return [...placeFixed(mark, at, 'A pattern'), ...countProblems(mark, at)];
  const hatched =
    mark.hatch !== undefined && mark.way !== 'clear'
      ? [problem(at('hatch'), 'Only a cleared area is hatched.', 'Remove it, or give `way: clear`.')]
      : [];
  const more = isLettered(mark) ? letteredProblems(mark, at) : motifProblems(mark, at);
  return [...sizeProblems(mark, at), ...hatched, ...more];
}

/** More waves than this on one part is a slip, and would take hours to work out. */
const MOST_WAVES = 200_000;

function countProblems({ pattern }: PatternMark, at: At): Problem[] {
  if (pattern.rows * pattern.count <= MOST_WAVES) return [];
  const what = `${pattern.rows} rows of ${pattern.count} are more than ${MOST_WAVES} waves.`;
  return [problem(at('pattern', 'rows'), what, 'Give fewer rows, or fewer round the ring.')];
}

/** What is laid where its document says has no zone to slide in. */
function placeFixed({ place }: Mark, at: At, what: string): Problem[] {
  if (!Array.isArray(place.z) && !Array.isArray(place.angle) && place.angle !== 'any') return [];
  const cure = 'Give one figure for `z` and for `angle`.';
  return [problem(at('place'), `${what} has no zone to slide in.`, cure)];
}

function sizeProblems({ size }: Exclude<Mark, PatternMark>, at: At): Problem[] {
  if (typeof size === 'number' || size.min <= size.max) return [];
  const what = `\`max\` (${figure(size.max)}) is less than \`min\` (${figure(size.min)}).`;
  return [problem(at('size', 'max'), what, 'Give the smaller height as `min`.')];
}

function letteredProblems(mark: LetteredMark, at: At): Problem[] {
  const problems: Problem[] = [];
  const helix = mark.baseline === 'helix';
  if (helix && !mark.pitch)
    problems.push(
      problem(at('baseline'), 'A helix needs its climb.', 'Give `pitch`, the mm it climbs in a turn.'),
    );
  if (!helix && mark.pitch !== undefined)
    problems.push(problem(at('pitch'), 'Only a helix climbs.', 'Remove `pitch` or give `baseline: helix`.'));
  if (mark.kind !== 'inscription') return problems;
  const { closes, arc, text, baseline } = mark;
  if (closes && arc !== undefined)
    problems.push(problem(at('arc'), '`closes` and `arc` are both given.', 'Give one of the two.'));
  const spread = closes ? 'closes' : 'arc';
  if (!closes && arc === undefined) return problems;
  if (Array.isArray(mark.place.z))
    problems.push(
      problem(at('place', 'z'), 'Words spread round a ring need to know which.', 'Give one figure for `z`.'),
    );
  if (baseline !== 'ring')
    problems.push(
      problem(at(spread), 'Words are spread round a ring only.', 'Give `baseline: ring` or remove it.'),
    );
  if (Array.isArray(text) && text.length > 1)
    problems.push(problem(at(spread), 'Only one row of words is spread.', 'Make a mark of each row.'));
  return problems;
}

function motifProblems(mark: MotifMark, at: At): Problem[] {
  const { repeat, meets, size } = mark;
  if (!repeat) {
    if (meets !== 'drop') return [];
    const what = 'Only repeats can be dropped.';
    return [problem(at('meets'), what, 'Give `repeat`, or `refuse` or `trim` here.')];
  }
  const problems: Problem[] = [];
  if (typeof size !== 'number')
    problems.push(problem(at('size'), 'A drawing that repeats is not fitted.', 'Give one height.'));
  problems.push(...placeFixed(mark, at, 'A drawing that repeats'));
  if (repeat.mirror === 'alternate' && repeat.count % 2 === 1)
    problems.push(
      problem(
        at('repeat', 'count'),
        `With ${repeat.count} round the ring, two alike meet at the seam.`,
        'Give an even count, or `mirror: none`.',
      ),
    );
  if (repeat.rows > 1 && repeat.rise === undefined)
    problems.push(
      problem(at('repeat', 'rows'), 'Several rows need their rise.', 'Give `rise`, mm from row to row.'),
    );
  return problems;
}

/** A groove needs a cone; an area is cleared by a cutter that turns. */
export function wayProblems(mark: Mark, cutter: Cutter, at: At): Problem[] {
  if (mark.kind === 'pattern') return [];
  if (mark.way === 'groove' && cutter.shape !== 'cone') {
    const what = `A groove is cut by a cone, and ${quoted(mark.cutter)} is a ${cutter.shape}.`;
    return [problem(at('way'), what, 'Use a cone cutter, or another way.')];
  }
  if (mark.way === 'clear' && (cutter.shape === 'drag' || cutter.shape === 'beam')) {
    const what = `${quoted(mark.cutter)} draws a line and clears no area.`;
    return [problem(at('way'), what, 'Use a cone, ball or flat cutter, or another way.')];
  }
  return [];
}
