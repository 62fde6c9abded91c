import type { Dedication } from '../documents/dedications.js';
import type { LetteredMark } from '../documents/schema/design.js';
import type { Numbered } from '../edition/labels.js';
import { fillArc } from '../lettering/arc-text.js';
import type { Font } from '../lettering/font.js';
import { shapeRing } from '../lettering/ring-text.js';
import { type ShapedLine, shapeLine, type TextOptions } from '../lettering/shaped-line.js';
import { nearestSubstitute } from '../lettering/substitute.js';
import { shapeBlock } from '../lettering/text-block.js';
import { type Problem, problem } from '../problem.js';
import type { Surface } from '../surface/surface.js';
import { toRad } from '../units.js';

/** The set words of a mark. */
export interface Texts {
  /** By label, or by the words themselves where every piece carries the same. */
  readonly lines: ReadonlyMap<string, ShapedLine>;
  /** The line for a height and a z, both mm, where words are spread to a given length; undefined when too long. */
  readonly lineAt?: (size: number, z: number) => ShapedLine | undefined;
  readonly substituted: readonly {
    readonly label: string;
    readonly character: string;
    readonly by: string;
  }[];
}

/** Sets the words of a mark for every label, or says which characters its font lacks and what comes nearest. */
export function textsOf(
  where: string,
  mark: LetteredMark,
  font: Font,
  surface: Surface,
  labels: readonly Numbered[],
  dedications: readonly Dedication[] = [],
): Texts | { readonly problems: Problem[] } {
  const faults = [...wayFaults(where, mark, font), ...dedicationFaults(where, mark, labels, dedications)];
  if (faults.length > 0) return { problems: faults };
  const lines = new Map<string, ShapedLine>();
  for (const [label, rows] of rowsOf(mark, labels, dedications)) lines.set(label, rowsSet(mark, font, rows));
  const lineAt = spreadOf(mark, font, surface);
  // A separator is set with the words it parts, and its signs must be there too.
  const between = separatorOf(mark, font);
  const missing = [...new Set([...lines.values(), ...between].flatMap((l) => l.missing))];
  if (missing.length > 0) return { problems: [lacking(where, mark, font, missing)] };
  const all = [...lines, ...between.map((line) => [[...lines.keys()][0]!, line] as const)];
  const substituted = all.flatMap(([label, line]) => (line.substituted ?? []).map((s) => ({ label, ...s })));
  return { lines, ...(lineAt ? { lineAt } : {}), substituted };
}

function rowsOf(
  mark: LetteredMark,
  labels: readonly Numbered[],
  dedications: readonly Dedication[],
): [label: string, rows: readonly string[]][] {
  if (mark.kind === 'number') return labels.map(({ label }) => [label, [label]]);
  if (mark.kind === 'inscription') {
    const rows = typeof mark.text === 'string' ? [mark.text] : mark.text;
    return [[rows.join(' '), rows]];
  }
  const byNumber = new Map(labels.map((n) => [`${n.series} ${n.number}`, n.label]));
  const only = labels[0]?.series;
  return dedications.map(({ series, number, text }) => [
    byNumber.get(`${series ?? only} ${number}`)!,
    text.split('\n'),
  ]);
}

const optionsOf = (mark: LetteredMark): TextOptions => ({
  capitals: mark.capitals,
  substitute: mark.kind !== 'number' && mark.substitute,
});

function rowsSet(mark: LetteredMark, font: Font, rows: readonly string[]): ShapedLine {
  const { figures, spacing } = mark;
  const options = optionsOf(mark);
  if (mark.kind === 'number' || rows.length === 1)
    return shapeLine(font, rows[0]!, figures, spacing, options);
  return shapeBlock(font, rows, {
    ...options,
    digits: figures,
    spacing,
    leading: mark.leading,
    align: mark.align,
  });
}

const separatorOf = (mark: LetteredMark, font: Font): ShapedLine[] =>
  mark.kind === 'inscription' && mark.closes
    ? [shapeLine(font, mark.closes.separator, mark.figures, mark.spacing, optionsOf(mark))]
    : [];

function spreadOf(mark: LetteredMark, font: Font, surface: Surface): Texts['lineAt'] {
  if (mark.kind !== 'inscription') return undefined;
  const { closes, arc, text, figures, spacing } = mark;
  const words = typeof text === 'string' ? text : text[0]!;
  const options = { ...optionsOf(mark), digits: figures, spacing };
  if (closes) {
    const width = (times: number) =>
      shapeLine(font, `${words}${closes.separator}`.repeat(times), figures, spacing, options).width;
    const once = width(2) - width(1);
    const natural = closes.times === 'most' ? once : once * closes.times;
    return (size, z) => {
      const round = (2 * Math.PI * surface.radius(z)) / size;
      // Spaces are drawn in only where the letters may get no smaller.
      if (typeof mark.size !== 'number' && size > mark.size.min && round < natural) return undefined;
      return shapeRing(font, words, closes.separator, round, { ...options, repeats: closes.times });
    };
  }
  if (arc === undefined) return undefined;
  const line = shapeLine(font, words, figures, spacing, options);
  return (size, z) => fillArc(line, (toRad(arc) * surface.radius(z)) / size);
}

/** Areas are what is cleared and grooved, and a stroke font has none. */
function wayFaults(where: string, { way, font: id }: LetteredMark, font: Font): Problem[] {
  if (way === 'trace' || font.kind === 'outline') return [];
  const what = `The font ${id} is drawn in single lines, which have no area to ${way === 'clear' ? 'clear' : 'groove'}.`;
  return [problem(where, what, 'Use `way: trace`, or an outline font.')];
}

function dedicationFaults(
  where: string,
  mark: LetteredMark,
  labels: readonly Numbered[],
  dedications: readonly Dedication[],
): Problem[] {
  if (mark.kind !== 'dedication') return [];
  if (dedications.length === 0)
    return [
      problem(
        where,
        'The edition has no dedications.',
        'Give the edition a `dedications` list, or drop the mark.',
      ),
    ];
  const series = new Set(labels.map((n) => n.series));
  const known = new Set(labels.map((n) => `${n.series} ${n.number}`));
  const only = labels[0]?.series;
  return dedications.flatMap((d) => {
    const at = `${where}: dedication in row ${d.line}`;
    if (d.series === undefined && series.size > 1)
      return [problem(at, 'The edition has several series.', `Give its series: ${[...series].join(', ')}.`)];
    const name = d.series ?? only;
    if (known.has(`${name} ${d.number}`)) return [];
    return [
      problem(at, `The series ${name} has no number ${d.number}.`, 'Correct the number or the series.'),
    ];
  });
}

function lacking(where: string, mark: LetteredMark, font: Font, missing: readonly string[]): Problem {
  const told = missing.map((c) => {
    const near = nearestSubstitute(font, c);
    return `"${c}" (${codePoint(c)}${near === undefined ? '' : `; nearest is "${near}"`})`;
  });
  const near = missing.some((c) => nearestSubstitute(font, c) !== undefined);
  const cure =
    near && mark.kind !== 'number'
      ? 'Choose a font that has it, other text, or `substitute: true`.'
      : 'Choose a font that has it, or other text.';
  return problem(where, `The font ${mark.font} has no ${told.join(', ')}.`, cure);
}

const codePoint = (character: string): string =>
  [...character].map((c) => `U+${c.codePointAt(0)!.toString(16).toUpperCase().padStart(4, '0')}`).join(' ');
