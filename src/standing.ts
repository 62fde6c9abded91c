/**
 * A text in stretches, in order. Stretches that many files share stand ready as UTF-8, encoded once for all of them,
 * as a printer keeps type standing; what differs from file to file is set each time.
 */
export type Setting = readonly (string | Uint8Array)[];

/** A text made to stand for many files. */
export const standing = (text: string): Uint8Array => Buffer.from(text, 'utf8');

/** The whole as one string. */
export const textOf = (setting: Setting): string =>
  setting
    .map((stretch) => (typeof stretch === 'string' ? stretch : Buffer.from(stretch).toString('utf8')))
    .join('');

/** Text is encoded in stretches of about so many characters, that a long one need not be one string as well. */
const STRETCH = 1 << 20;

/** The whole as bytes, for one gathered write; standing stretches are not copied. */
export function bytesOf(setting: Setting): Uint8Array[] {
  const out: Uint8Array[] = [];
  let text = '';
  const close = () => {
    if (text !== '') out.push(Buffer.from(text, 'utf8'));
    text = '';
  };
  for (const stretch of setting) {
    if (typeof stretch === 'string') {
      text += stretch;
      if (text.length >= STRETCH) close();
      continue;
    }
    close();
    out.push(stretch);
  }
  close();
  return out;
}
