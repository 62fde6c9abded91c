import type { Problem } from '../../problem.js';
import { withoutInvisible } from '../invisible.js';
import { problem } from '../messages.js';
import { plainText } from '../quote.js';
import type { Cutter } from '../schema/cutter.js';
import {
  isLettered,
  type LetteredMark,
  type Mark,
  type MotifMark,
  type PatternMark,
} from '../schema/design.js';
import type { At } from '../source-places.js';

/** Keys of one mark that must agree with one another. */
export function formProblems(mark: Mark, at: At): Problem[] {
  if (mark.kind === 'pattern') return [...placeFixed(mark, at, 'pattern'), ...countProblems(mark, at)];
  const hatched =
    mark.hatch !== undefined && mark.way !== 'clear'
      ? [problem('documents.hatch-not-cleared', at('hatch'), {})]
      : [];
  const more = isLettered(mark) ? letteredProblems(mark, at) : motifProblems(mark, at);
  return [...sizeProblems(mark, at), ...hatched, ...more];
}

/** Waves and lobes of one mark. A guilloche of a pen has some thousands; each costs points to place, order and prove. */
const MOST_WAVES = 20_000;
/** Copies of a drawing in one mark. */
const MOST_REPEATS = 5_000;
/** Letters of one mark: more would not be read on a pen, and each is fitted against every obstacle. */
const MOST_LETTERS = 2_000;

function countProblems({ pattern }: PatternMark, at: At): Problem[] {
  if (pattern.rows * wavesOfRow(pattern) <= MOST_WAVES) return [];
  const { rows, count } = pattern;
  return [problem('documents.too-many-waves', at('pattern', 'rows'), { rows, count, most: MOST_WAVES })];
}

function wavesOfRow(pattern: PatternMark['pattern']): number {
  if (pattern.form === 'rosettes') return pattern.count * pattern.lobes * pattern.curves;
  if (pattern.form === 'moire') return pattern.count + pattern.second;
  return pattern.form === 'barleycorn' ? 2 * pattern.count : pattern.count;
}

function letterProblems(mark: LetteredMark, at: At): Problem[] {
  if (mark.kind !== 'inscription') return [];
  const rows = typeof mark.text === 'string' ? [mark.text] : mark.text;
  const times = typeof mark.closes?.times === 'number' ? mark.closes.times : 1;
  const letters = times * rows.reduce((sum, row) => sum + [...row].length, 0);
  if (letters <= MOST_LETTERS) return [];
  const where = times > 1 ? at('closes', 'times') : at('text');
  return [problem('documents.too-many-letters', where, { letters, most: MOST_LETTERS })];
}

/** Spaces alone, with no sign between them round a ring, leave nothing to cut. */
function blankProblems(mark: LetteredMark, at: At): Problem[] {
  if (mark.kind !== 'inscription') return [];
  const all = [mark.text, mark.closes?.separator ?? ''].flat().join('');
  return withoutInvisible(all).trim() === '' ? [problem('documents.text-blank', at('text'), {})] : [];
}

/** A helix that climbs less in a turn is a ring. */
const LEAST_PITCH_MM = 0.1;

/** Patterns and repeats are placed where the document says; they are not fitted within a zone. */
function placeFixed({ place }: Mark, at: At, what: string): Problem[] {
  if (!Array.isArray(place.z) && !Array.isArray(place.angle) && place.angle !== 'any') return [];
  return [problem('documents.no-zone', at('place'), { what })];
}

function sizeProblems({ size }: Exclude<Mark, PatternMark>, at: At): Problem[] {
  if (typeof size === 'number' || size.min <= size.max) return [];
  return [problem('documents.size-reversed', at('size', 'max'), { ...size })];
}

function letteredProblems(mark: LetteredMark, at: At): Problem[] {
  const problems = [...letterProblems(mark, at), ...blankProblems(mark, at)];
  const helix = mark.baseline === 'helix';
  if (helix && Math.abs(mark.pitch ?? 0) < LEAST_PITCH_MM)
    problems.push(problem('documents.helix-without-pitch', at('baseline'), {}));
  if (!helix && mark.pitch !== undefined)
    problems.push(problem('documents.pitch-without-helix', at('pitch'), {}));
  if (mark.kind !== 'inscription') return problems;
  const { closes, arc, text, baseline } = mark;
  if (closes && arc !== undefined) problems.push(problem('documents.closes-and-arc', at('arc'), {}));
  const spread = closes ? 'closes' : 'arc';
  if (!closes && arc === undefined) return problems;
  if (Array.isArray(mark.place.z)) problems.push(problem('documents.spread-needs-z', at('place', 'z'), {}));
  if (baseline !== 'ring') problems.push(problem('documents.spread-needs-ring', at(spread), {}));
  if (Array.isArray(text) && text.length > 1)
    problems.push(problem('documents.spread-one-row', at(spread), {}));
  return problems;
}

function motifProblems(mark: MotifMark, at: At): Problem[] {
  const { repeat, meets } = mark;
  if (!repeat) {
    if (meets === 'drop') return [problem('documents.drop-needs-repeat', at('meets'), {})];
    return meets === 'trim' ? drawingFixed(mark, at, 'drawing that is trimmed') : [];
  }
  const problems: Problem[] = [];
  if (repeat.rows * repeat.count > MOST_REPEATS) {
    const values = { rows: repeat.rows, count: repeat.count, most: MOST_REPEATS };
    problems.push(problem('documents.too-many-repeats', at('repeat', 'rows'), values));
  }
  problems.push(...drawingFixed(mark, at, 'drawing that repeats'));
  if (repeat.mirror === 'alternate' && repeat.count % 2 === 1)
    problems.push(problem('documents.mirror-odd-count', at('repeat', 'count'), { count: repeat.count }));
  if (repeat.rows > 1 && repeat.rise === undefined)
    problems.push(problem('documents.rows-without-rise', at('repeat', 'rows'), {}));
  return problems;
}

/** What repeats or is trimmed has one height and one place. */
function drawingFixed(mark: MotifMark, at: At, what: string): Problem[] {
  const sized = typeof mark.size === 'number' ? [] : [problem('documents.one-height', at('size'), { what })];
  return [...sized, ...placeFixed(mark, at, what)];
}

/** A groove needs a cone; an area is cleared by a cutter that turns. */
export function strategyProblems(mark: Mark, cutter: Cutter, at: At): Problem[] {
  if (mark.kind === 'pattern') return [];
  if (mark.way === 'groove' && cutter.shape !== 'cone') {
    const values = { cutter: plainText(mark.cutter), shape: cutter.shape };
    return [problem('documents.groove-needs-cone', at('way'), values)];
  }
  if (mark.way === 'clear' && (cutter.shape === 'drag' || cutter.shape === 'beam')) {
    return [problem('documents.cutter-clears-nothing', at('way'), { cutter: plainText(mark.cutter) })];
  }
  return [];
}
