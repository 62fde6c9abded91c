import type { Element } from '@svgdotjs/svg.js';
import { encodeText, joinChunks, type TextChunks } from '../text-chunks.js';
import { escapeAttribute, escapeContent } from './display-text.js';
import { type Canvas, emptySvg, toXml } from './svg-canvas.js';

/**
 * A drawing that is written many times, each time with other values in its slots. It is drawn once, since drawing
 * costs a hundred times as much as filling in text; `docs/sheets.md` has the measurements.
 */
export interface Template<Name extends string> {
  /** The drawing in chunks. Those between slots are shared by all that is written from it. */
  fill(values: Readonly<Record<Name, SlotValue>>): TextChunks;
  /** The same as one string. */
  write(values: Readonly<Record<Name, SlotValue>>): string;
}

/** Text from people, which is escaped as its place asks; or markup and plain numbers, which are put in as they are. */
export type SlotValue = string | { readonly markup: TextChunks } | { readonly raw: string };

interface PlacedSlot {
  readonly name: string;
  readonly escapeText: (text: string) => string;
}

/** Slots as `slotMark` writes them: an attribute's tabs are written as references, and those of content as they are. */
const MARK = /&#x9;(\w+)&#x9;|\t(\w+)\t/;

/** A template from markup with slots in it. */
export function templateOf<Name extends string>(xml: string): Template<Name> {
  const texts: string[] = [];
  const slots: PlacedSlot[] = [];
  const parts = xml.split(MARK);
  for (let i = 0; i < parts.length; i += 3) {
    texts.push(parts[i]!);
    const [inAttribute, inContent] = [parts[i + 1], parts[i + 2]];
    if (inAttribute !== undefined) slots.push({ name: inAttribute, escapeText: escapeAttribute });
    else if (inContent !== undefined) slots.push({ name: inContent, escapeText: escapeContent });
  }
  const encoded = texts.map(encodeText);
  const valueAt = (values: Readonly<Record<string, SlotValue>>, k: number): TextChunks => {
    const { name, escapeText } = slots[k]!;
    const value = values[name]!;
    if (typeof value === 'string') return [escapeText(value)];
    return 'raw' in value ? [value.raw] : value.markup;
  };
  return {
    fill: (values) => ({
      *[Symbol.iterator]() {
        for (const [k, chunk] of encoded.entries()) {
          if (k > 0) yield* valueAt(values, k - 1);
          yield chunk;
        }
      },
    }),
    write: (values) =>
      texts.map((text, k) => (k === 0 ? text : `${joinChunks(valueAt(values, k - 1))}${text}`)).join(''),
  };
}

/** The whole of a drawing as a template. */
export const sheetTemplate = <Name extends string>(svg: Element): Template<Name> =>
  templateOf<Name>(`${toXml(svg)}\n`);

/** Elements that stand inside another drawing, as a template. */
export function elementTemplate<Name extends string>(
  canvas: Canvas,
  draw: (parent: Element) => void,
): Template<Name> {
  const svg = emptySvg(canvas);
  draw(svg);
  const xml = toXml(svg);
  return templateOf<Name>(xml.slice(xml.indexOf('>') + 1, xml.lastIndexOf('<')));
}
