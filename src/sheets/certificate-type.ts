import { characterCoverage } from '../lettering/shaper.js';
import { shown } from './text.js';

/** ISO 32000, 8.3.2.3: the unit of default user space is 1/72 inch. */
export const UNITS_PER_MM = 72 / 25.4;
export const units = (mm: number): number => mm * UNITS_PER_MM;

/** One style of type as font files that together hold its scripts, the first before the next. */
export type FaceFiles = readonly Uint8Array[];

export type FaceName = 'text' | 'italic' | 'display';
export type Faces = Readonly<Record<FaceName, FaceFiles>>;

/** A stretch of a line that one font file can set. */
export interface Stretch {
  readonly font: string;
  readonly text: string;
}

export interface Face {
  /** The fonts to give the document, by the names stretches use. */
  readonly fonts: readonly { readonly name: string; readonly bytes: Uint8Array }[];
  /** A person's text as stretches. What no font can show is written out as its code point, never left out. */
  stretches(text: string): Stretch[];
}

/** Marks that show nothing by themselves; hidden in a name, they would make two names look one. */
const UNSEEN = /[\p{Cf}\p{Co}\p{Cn}]|(?! )\p{Zs}/u;

const codePoint = (c: string): string =>
  `[U+${c.codePointAt(0)!.toString(16).toUpperCase().padStart(4, '0')}]`;

const opened = new WeakMap<FaceFiles, Face>();

export function faceOf(name: FaceName, files: FaceFiles): Face {
  const known = opened.get(files);
  if (known) return known;
  const covers = files.map(characterCoverage);
  const fonts = files.map((bytes, i) => ({ name: `${name}-${i}`, bytes }));
  const fontOf = (c: string): number => covers.findIndex((has) => has(c.codePointAt(0)!));

  const stretches = (text: string): Stretch[] => {
    const out: { font: number; text: string }[] = [];
    for (const c of shown(text).normalize('NFC')) {
      const found = UNSEEN.test(c) ? -1 : fontOf(c);
      const last = out.at(-1);
      // A blank or a mark on a letter goes with what stands before it, where that font has it too.
      const font = found < 0 ? 0 : last && covers[last.font]!(c.codePointAt(0)!) ? last.font : found;
      const written = found < 0 ? codePoint(c) : c;
      if (last?.font === font) last.text += written;
      else out.push({ font, text: written });
    }
    return out.map(({ font, text }) => ({ font: fonts[font]!.name, text }));
  };
  const face = { fonts, stretches };
  opened.set(files, face);
  return face;
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

/** Letters set apart are never joined. The writer takes features to be left out too, which its types do not say. */
const featuresOf = ({ spacing }: Style): PDFKit.Mixins.OpenTypeFeatures[] =>
  (spacing ? { liga: false, clig: false, dlig: false } : []) as PDFKit.Mixins.OpenTypeFeatures[];

/** Sets lines of type on a page, in mm from its upper left corner. */
export interface Setter {
  width(text: string, style: Style): number;
  /** Its baseline at y. */
  line(text: string, x: number, y: number, style: Style): void;
  /** One line, set smaller where it would be wider than `room`; gives its size. */
  fitted(text: string, x: number, y: number, room: number, style: Style): number;
  /** Lines of at most `room` mm from baseline y downward, `lead` sizes apart; gives the baseline after the last. */
  block(text: string, x: number, y: number, room: number, style: Style, lead?: number): number;
}

export function setterFor(doc: PDFKit.PDFDocument, faces: Faces): Setter {
  const face = (name: FaceName) => faceOf(name, faces[name]);
  for (const name of Object.keys(faces) as FaceName[])
    for (const font of face(name).fonts) doc.registerFont(font.name, Buffer.from(font.bytes));

  const laid = (text: string, style: Style) => {
    const gap = units((style.spacing ?? 0) * style.size);
    let at = 0;
    const runs = face(style.face)
      .stretches(text)
      .map((stretch) => {
        const from = at;
        doc.font(stretch.font, units(style.size));
        at +=
          doc.widthOfString(stretch.text, { features: featuresOf(style) }) + gap * [...stretch.text].length;
        return { ...stretch, from };
      });
    return { runs, gap, width: Math.max(0, at - gap) };
  };
  const setter: Setter = {
    width: (text, style) => laid(text, style).width / UNITS_PER_MM,
    line(text, x, y, style) {
      const { runs, gap, width } = laid(text, style);
      const left = units(x) - width * { start: 0, middle: 0.5, end: 1 }[style.anchor ?? 'start'];
      doc.fillColor(style.fill);
      for (const run of runs) {
        doc.font(run.font, units(style.size));
        const features = featuresOf(style);
        const options = {
          lineBreak: false,
          characterSpacing: gap,
          baseline: 'alphabetic' as const,
          features,
        };
        doc.text(run.text, left + run.from, units(y), options);
      }
    },
    fitted(text, x, y, room, style) {
      const wide = setter.width(text, style);
      const size = wide > room ? (style.size * room) / wide : style.size;
      setter.line(text, x, y, { ...style, size });
      return size;
    },
    block(text, x, y, room, style, lead = 1.35) {
      let line = '';
      let at = y;
      const put = (): void => {
        setter.fitted(line, x, at, room, style);
        at += style.size * lead;
      };
      for (const word of text.split(' ')) {
        const next = line === '' ? word : `${line} ${word}`;
        if (line !== '' && setter.width(next, style) > room) {
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
