import { characterCoverage } from '../lettering/font-shaper.js';
import { displayText } from './display-text.js';

/** ISO 32000, 8.3.2.3: the unit of default user space is 1/72 inch. */
export const UNITS_PER_MM = 72 / 25.4;
export const units = (mm: number): number => mm * UNITS_PER_MM;

/** One style of type as font files that together hold its scripts, the first before the next. */
export type FaceFiles = readonly Uint8Array[];

export type FaceName = 'text' | 'italic' | 'display';
/** The type of certificates, opened once for any number of them. */
export type Typefaces = Readonly<Record<FaceName, Typeface>>;

/** A part of a line that one font file can set. */
export interface FontRun {
  readonly font: string;
  readonly text: string;
}

export interface Typeface {
  /** The fonts to give the document, by the names that runs use. */
  readonly fonts: readonly { readonly name: string; readonly bytes: Uint8Array }[];
  /** A person's text as runs. What no font can show is written out as its code point, never left out. */
  runsOf(text: string): FontRun[];
}

/** Characters that show nothing by themselves; with one hidden in it, a name would look like another. */
const UNSEEN = /[\p{Cf}\p{Co}\p{Cn}]|(?! )\p{Zs}/u;

const codePoint = (c: string): string =>
  `[U+${c.codePointAt(0)!.toString(16).toUpperCase().padStart(4, '0')}]`;

/** Opens the font files of one style. */
export function openTypeface(name: FaceName, files: FaceFiles): Typeface {
  const covers = files.map(characterCoverage);
  const fonts = files.map((bytes, i) => ({ name: `${name}-${i}`, bytes }));
  const fontOf = (c: string): number => covers.findIndex((has) => has(c.codePointAt(0)!));

  const runsOf = (text: string): FontRun[] => {
    const out: { font: number; text: string }[] = [];
    for (const c of displayText(text).normalize('NFC')) {
      const found = UNSEEN.test(c) ? -1 : fontOf(c);
      const last = out.at(-1);
      // A space or a combining mark goes with what is before it, where that font has it too.
      const font = found < 0 ? 0 : last && covers[last.font]!(c.codePointAt(0)!) ? last.font : found;
      const written = found < 0 ? codePoint(c) : c;
      if (last?.font === font) last.text += written;
      else out.push({ font, text: written });
    }
    return out.map(({ font, text }) => ({ font: fonts[font]!.name, text }));
  };
  return { fonts, runsOf };
}

export interface Style {
  readonly face: FaceName;
  /** mm */
  readonly size: number;
  readonly fill: string;
  readonly anchor?: 'start' | 'middle' | 'end';
  /** Added between letters, in sizes. */
  readonly spacing?: number;
}

/** Letters with added space are never joined. PDFKit can also switch features off, which its types do not say. */
const featuresOf = ({ spacing }: Style): PDFKit.Mixins.OpenTypeFeatures[] =>
  (spacing ? { liga: false, clig: false, dlig: false } : []) as PDFKit.Mixins.OpenTypeFeatures[];

/** Sets lines of type on a page, in mm from its upper left corner. */
export interface Setter {
  width(text: string, style: Style): number;
  /** Its baseline at y. */
  line(text: string, x: number, y: number, style: Style): void;
  /** One line, set smaller where it would be wider than `maxWidth`; gives its size. */
  fittedLine(text: string, x: number, y: number, maxWidth: number, style: Style): number;
  /** Lines of at most `maxWidth` mm from baseline y downward, `lead` sizes apart; gives the baseline after the last. */
  block(text: string, x: number, y: number, maxWidth: number, style: Style, lead?: number): number;
}

export function setterFor(doc: PDFKit.PDFDocument, typefaces: Typefaces): Setter {
  for (const { fonts } of Object.values(typefaces))
    for (const font of fonts) doc.registerFont(font.name, Buffer.from(font.bytes));

  const layOut = (text: string, style: Style) => {
    const gap = units((style.spacing ?? 0) * style.size);
    let at = 0;
    const fontRuns = typefaces[style.face].runsOf(text).map((fontRun) => {
      const from = at;
      doc.font(fontRun.font, units(style.size));
      at += doc.widthOfString(fontRun.text, { features: featuresOf(style) }) + gap * [...fontRun.text].length;
      return { ...fontRun, from };
    });
    return { runs: fontRuns, gap, width: Math.max(0, at - gap) };
  };
  const setter: Setter = {
    width: (text, style) => layOut(text, style).width / UNITS_PER_MM,
    line(text, x, y, style) {
      const { runs: fontRuns, gap, width } = layOut(text, style);
      const left = units(x) - width * { start: 0, middle: 0.5, end: 1 }[style.anchor ?? 'start'];
      doc.fillColor(style.fill);
      for (const fontRun of fontRuns) {
        doc.font(fontRun.font, units(style.size));
        const features = featuresOf(style);
        const options = {
          lineBreak: false,
          characterSpacing: gap,
          baseline: 'alphabetic' as const,
          features,
        };
        doc.text(fontRun.text, left + fontRun.from, units(y), options);
      }
    },
    fittedLine(text, x, y, maxWidth, style) {
      const wide = setter.width(text, style);
      const size = wide > maxWidth ? (style.size * maxWidth) / wide : style.size;
      setter.line(text, x, y, { ...style, size });
      return size;
    },
    block(text, x, y, maxWidth, style, lead = 1.35) {
      let line = '';
      let at = y;
      const put = (): void => {
        setter.fittedLine(line, x, at, maxWidth, style);
        at += style.size * lead;
      };
      for (const word of text.split(' ')) {
        const next = line === '' ? word : `${line} ${word}`;
        if (line !== '' && setter.width(next, style) > maxWidth) {
          put();
          line = word;
        } else line = next;
      }
      put();
      return at;
    },
  };
  return setter;
}
