import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { unpackFont } from '../lettering/sfnt.js';
import { openTypeface, type Typefaces } from '../sheets/certificate-type.js';
import { refuse } from './messages.js';

const require = createRequire(import.meta.url);

/** A family comes in files by script; the first has the characters that all share. */
const TEXT_SCRIPTS = ['latin', 'latin-ext', 'vietnamese', 'greek', 'greek-ext', 'cyrillic', 'cyrillic-ext'];
const DISPLAY_SCRIPTS = ['latin', 'latin-ext', 'vietnamese', 'cyrillic', 'cyrillic-ext'];

/** The fonts of certificates, opened. Throws a Refusal (exit 2) when a font that belongs to burin is missing. */
export async function certificateFaces(): Promise<Typefaces> {
  const family = (name: string, style: string, scripts: readonly string[]) =>
    Promise.all(scripts.map((script) => fontFile(`@fontsource/${name}`, `${name}-${script}-${style}.woff`)));
  const [text, italic, display] = await Promise.all([
    family('eb-garamond', '400-normal', TEXT_SCRIPTS),
    family('eb-garamond', '400-italic', TEXT_SCRIPTS),
    family('cormorant-garamond', '500-normal', DISPLAY_SCRIPTS),
  ]);
  // The display family has no Greek; that of the other is used.
  return {
    text: openTypeface('text', text),
    italic: openTypeface('italic', italic),
    display: openTypeface('display', [...display, ...text.slice(-4, -2)]),
  };
}

async function fontFile(from: string, file: string): Promise<Uint8Array> {
  try {
    // Unpacked once: PDFKit would unpack it again for every certificate.
    return unpackFont(await readFile(require.resolve(`${from}/files/${file}`)), `font ${file}`);
  } catch {
    throw refuse('app.certificate-font-missing', '', { file });
  }
}
