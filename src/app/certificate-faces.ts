import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { unpackFont } from '../lettering/sfnt.js';
import { refuse } from '../problem.js';
import type { Faces } from '../sheets/certificate-type.js';

const require = createRequire(import.meta.url);

/** A family comes cut into files by script; the first holds the signs all share. */
const TEXT_SCRIPTS = ['latin', 'latin-ext', 'vietnamese', 'greek', 'greek-ext', 'cyrillic', 'cyrillic-ext'];
const DISPLAY_SCRIPTS = ['latin', 'latin-ext', 'vietnamese', 'cyrillic', 'cyrillic-ext'];

let read: Promise<Faces> | undefined;

/** The type of certificates. Throws a Refusal (exit 2) when a font that belongs to burin is missing. */
export const certificateFaces = (): Promise<Faces> => {
  read ??= readFaces();
  return read;
};

async function readFaces(): Promise<Faces> {
  const family = (name: string, style: string, scripts: readonly string[]) =>
    Promise.all(scripts.map((script) => fontFile(`@fontsource/${name}`, `${name}-${script}-${style}.woff`)));
  const [text, italic, display] = await Promise.all([
    family('eb-garamond', '400-normal', TEXT_SCRIPTS),
    family('eb-garamond', '400-italic', TEXT_SCRIPTS),
    family('cormorant-garamond', '500-normal', DISPLAY_SCRIPTS),
  ]);
  // The display family has no Greek; the other's stands in.
  return { text, italic, display: [...display, ...text.slice(-4, -2)] };
}

async function fontFile(from: string, file: string): Promise<Uint8Array> {
  try {
    // Unpacked once: the writer of PDF would unpack it anew for every certificate.
    return unpackFont(await readFile(require.resolve(`${from}/files/${file}`)), `font ${file}`);
  } catch {
    throw refuse(2, `font ${file}`, 'It is not installed.', 'Install burin again with everything it needs.');
  }
}
