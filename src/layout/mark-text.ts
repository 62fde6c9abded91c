import type { Dedication } from '../documents/dedications.js';
import type { LetteredMark } from '../documents/schema/design.js';
import { fillArc } from '../lettering/arc-text.js';
import type { Font } from '../lettering/font.js';
import { shapeRing } from '../lettering/ring-text.js';
import { lineSharer, type ShapedLine, shapeLine, type TextOptions } from '../lettering/shaped-line.js';
import { nearestSubstitute } from '../lettering/substitute.js';
import { shapeBlock } from '../lettering/text-block.js';
import type { Problem } from '../problem.js';
import type { Surface } from '../surface/surface.js';
import { toRad } from '../units.js';
import { problem } from './messages.js';

/** A number of an edition and how it is written on the piece. */
export interface LabelledNumber {
  readonly series: string;
  readonly number: number;
  readonly label: string;
}

/** The line of a text for a height and a z, both mm, where it is spread to a given length; undefined when too long. */
export type LineAt = (size: number, z: number) => ShapedLine | undefined;

/** A key of a mark with another value, and the line that words spread to a given length then have. */
export interface SpreadChange {
  readonly change: 'arc' | 'spacing' | 'times';
  readonly to: number;
  readonly lineAt: LineAt;
}

/** A letter that stands for one that the font lacks. */
export interface SubstitutedLetter {
  readonly label: string;
  readonly character: string;
  readonly by: string;
}

/** The shaped text of a mark. */
export interface MarkText {
  /** By label, or by the words themselves where every piece carries the same. */
  readonly lines: ReadonlyMap<string, ShapedLine>;
  /** There where words are spread to a given length. */
  readonly lineAt?: LineAt;
  /** There with it: what could be changed where the words are too long, the least change of each key first. */
  readonly spreadChanges?: () => Iterable<SpreadChange>;
  readonly substituted: readonly SubstitutedLetter[];
}

export interface TextRequest {
  /** The mark, for a person: `designs/cap-number.yaml: mark number`. */
  readonly where: string;
  readonly mark: LetteredMark;
  readonly font: Font;
  readonly surface: Surface;
  readonly labels: readonly LabelledNumber[];
  readonly dedications?: readonly Dedication[];
  /** Labels as they were shaped for other number marks of the edition: those set alike share them. */
  readonly shaped?: ShapedLabels;
}

/** The lines of all labels, by how they are set. */
export type ShapedLabels = Map<string, MarkText['lines']>;

/** Shapes the text of a mark for every label, or gives the problems: which characters the font lacks, and so on. */
export function shapeMarkText(request: TextRequest): MarkText | { readonly problems: Problem[] } {
  const { where, mark, font, surface, labels, dedications = [] } = request;
  const problems = [
    ...strategyProblems(where, mark, font),
    ...dedicationProblems(where, mark, labels, dedications),
  ];
  if (problems.length > 0) return { problems };
  const setting = settingOf(mark);
  const lines = request.shaped?.get(setting) ?? shapeAll(mark, font, rowsOf(mark, labels, dedications));
  if (mark.kind === 'number') request.shaped?.set(setting, lines);
  const lineAt = spreadLine(mark, font, surface);
  // A separator is set with the words it parts, and its signs must be there too.
  const between = separatorOf(mark, font);
  const missing = [...new Set([...lines.values(), ...between].flatMap((l) => l.missing))];
  if (missing.length > 0) return { problems: [missingCharacters(where, mark, font, missing)] };
  const all = [...lines, ...between.map((line) => [[...lines.keys()][0]!, line] as const)];
  const substituted = all.flatMap(([label, line]) => (line.substituted ?? []).map((s) => ({ label, ...s })));
  const spread = lineAt && { lineAt, spreadChanges: () => spreadChanges(mark, font, surface) };
  return { lines, ...spread, substituted };
}

function shapeAll(mark: LetteredMark, font: Font, rows: ReturnType<typeof rowsOf>): MarkText['lines'] {
  const lines = new Map<string, ShapedLine>();
  const shared = lineSharer();
  for (const [label, own] of rows) lines.set(label, shared(shapeRows(mark, font, own)));
  return lines;
}

/** What the lines of a number mark depend on, beside the labels; no other kind of mark has such a text. */
const settingOf = ({ kind, font, figures, spacing, capitals }: LetteredMark): string =>
  JSON.stringify([kind, font, figures, spacing, capitals]);

/** How many letters a mark has on all the pieces of an edition together. */
export function countLetters(
  mark: LetteredMark,
  labels: readonly LabelledNumber[],
  dedications: readonly Dedication[] = [],
): number {
  if (mark.kind === 'number') return labels.reduce((sum, { label }) => sum + label.length, 0);
  if (mark.kind === 'dedication') return dedications.reduce((sum, { text }) => sum + text.length, 0);
  return typeof mark.text === 'string' ? mark.text.length : mark.text.reduce((n, row) => n + row.length, 0);
}

/** What keeps the labels of a number mark from being set in its font; no sizes and no surface are asked for. */
export function labelProblems({
  where,
  mark,
  font,
  labels,
}: Pick<TextRequest, 'where' | 'mark' | 'font' | 'labels'>): Problem[] {
  const lines = rowsOf(mark, tellingLabels(labels), []).map(([, rows]) => shapeRows(mark, font, rows));
  const missing = [...new Set(lines.flatMap((line) => line.missing))];
  return missing.length > 0 ? [missingCharacters(where, mark, font, missing)] : [];
}

/** A hundred thousand labels have few characters: those labels that have one that none before them has. */
export function tellingLabels(labels: readonly LabelledNumber[]): LabelledNumber[] {
  const seen = new Set<string>();
  return labels.filter(({ label }) => {
    const known = seen.size;
    for (const character of label) seen.add(character);
    return seen.size > known;
  });
}

function rowsOf(
  mark: LetteredMark,
  labels: readonly LabelledNumber[],
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

function shapeRows(mark: LetteredMark, font: Font, rows: readonly string[]): ShapedLine {
  const { figures: digits, spacing } = mark;
  const options = optionsOf(mark);
  if (mark.kind === 'number' || rows.length === 1) return shapeLine(font, rows[0]!, digits, spacing, options);
  return shapeBlock(font, rows, { ...options, digits, spacing, leading: mark.leading, align: mark.align });
}

const separatorOf = (mark: LetteredMark, font: Font): ShapedLine[] =>
  mark.kind === 'inscription' && mark.closes
    ? [shapeLine(font, mark.closes.separator, mark.figures, mark.spacing, optionsOf(mark))]
    : [];

function spreadLine(mark: LetteredMark, font: Font, surface: Surface): LineAt | undefined {
  if (mark.kind !== 'inscription') return undefined;
  const { closes, arc, text, figures: digits, spacing } = mark;
  const words = typeof text === 'string' ? text : text[0]!;
  const options = { ...optionsOf(mark), digits, spacing };
  if (closes) {
    const width = (times: number) =>
      shapeLine(font, `${words}${closes.separator}`.repeat(times), digits, spacing, options).width;
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
  const line = shapeLine(font, words, digits, spacing, options);
  return (size, z) => fillArc(line, (toRad(arc) * surface.radius(z)) / size);
}

/** How far the words may at most be spread, degrees, and by which share one arc that is tried is longer than the one before. */
const LONGEST_ARC = 350;
const NEXT_ARC = 1.02;
/** The steps in which a spacing is brought nearer to none, letter heights. */
const SPACING_STEP = 0.05;

/** Longer arcs, spacings nearer to none and fewer repeats of a mark, nearest first. */
function* spreadChanges(mark: LetteredMark, font: Font, surface: Surface): Generator<SpreadChange> {
  if (mark.kind !== 'inscription') return;
  const { arc, closes, spacing } = mark;
  const changed = (change: SpreadChange['change'], to: number, other: LetteredMark): SpreadChange => ({
    ...{ change, to },
    lineAt: (size, z) => spreadLine(other, font, surface)!(size, z),
  });
  if (arc !== undefined)
    for (let to = Math.floor(arc) + 1; to <= LONGEST_ARC; to = Math.max(to + 1, Math.floor(to * NEXT_ARC)))
      yield changed('arc', to, { ...mark, arc: to });
  for (let k = 1; Math.abs(spacing) - k * SPACING_STEP > -SPACING_STEP; k++) {
    const to = Math.sign(spacing) * Math.max(0, Number((Math.abs(spacing) - k * SPACING_STEP).toFixed(2)));
    yield changed('spacing', to + 0, { ...mark, spacing: to });
  }
  if (closes && closes.times !== 'most')
    for (let to = closes.times - 1; to >= 1; to = Math.min(to - 1, Math.ceil(to / NEXT_ARC)))
      yield changed('times', to, { ...mark, closes: { ...closes, times: to } });
}

/** Only areas are cleared and grooved, and a stroke font has none. */
function strategyProblems(where: string, { way, font: id }: LetteredMark, font: Font): Problem[] {
  if (way === 'trace' || font.kind === 'outline') return [];
  return [problem('layout.font-without-areas', where, { font: id, strategy: way })];
}

function dedicationProblems(
  where: string,
  mark: LetteredMark,
  labels: readonly LabelledNumber[],
  dedications: readonly Dedication[],
): Problem[] {
  if (mark.kind !== 'dedication') return [];
  if (dedications.length === 0) return [problem('layout.no-dedications', where, {})];
  const series = new Set(labels.map((n) => n.series));
  const known = new Set(labels.map((n) => `${n.series} ${n.number}`));
  const only = labels[0]?.series;
  return dedications.flatMap((d) => {
    const at = `${where}: dedication in row ${d.line}`;
    if (d.series === undefined && series.size > 1)
      return [problem('layout.dedication-without-series', at, { series: [...series] })];
    const name = d.series ?? only;
    if (known.has(`${name} ${d.number}`)) return [];
    return [
      problem('layout.dedication-without-number', at, { series: String(name), number: String(d.number) }),
    ];
  });
}

function missingCharacters(
  where: string,
  mark: LetteredMark,
  font: Font,
  missing: readonly string[],
): Problem {
  let substitutes = false;
  const characters = missing.map((c) => {
    const near = nearestSubstitute(font, c);
    substitutes ||= near !== undefined;
    return `"${c}" (${codePoints(c)}${near === undefined ? '' : `; nearest is "${near}"`})`;
  });
  const code =
    substitutes && mark.kind !== 'number'
      ? 'layout.characters-substitutable'
      : ('layout.characters-missing' as const);
  return problem(code, where, { font: mark.font, characters });
}

const codePoints = (character: string): string =>
  [...character].map((c) => `U+${c.codePointAt(0)!.toString(16).toUpperCase().padStart(4, '0')}`).join(' ');
