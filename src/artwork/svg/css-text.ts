import { ident, tokenize, tokenTypes } from 'css-tree';

/** Signs that every value may hold and that need no second look. */
const PLAIN = /^[a-z0-9 #.%(),+-]*$/;

/**
 * The text of a value as the grammar of CSS sees it (CSS Syntax 3): comments gone, escapes read, and words, functions
 * and units in small letters, which mean the same. Undefined where a text or an address breaks off, which ends a value.
 */
export function valueText(text: string): string | undefined {
  if (PLAIN.test(text)) return text.trim();
  let made = '';
  let isBroken = false;
  tokenize(text, (type, start, end) => {
    const token = text.slice(start, end);
    if (type === tokenTypes.BadString || type === tokenTypes.BadUrl) isBroken = true;
    else if (type === tokenTypes.Comment) made += made.endsWith(' ') ? '' : ' ';
    else if (type === tokenTypes.WhiteSpace) made += ' ';
    else if (type === tokenTypes.Ident || type === tokenTypes.Function) made += wordText(token);
    else if (type === tokenTypes.Hash || type === tokenTypes.Dimension) made += token.toLowerCase();
    else if (type === tokenTypes.Url) made += token.replace(/^url\(/i, 'url(');
    else made += token;
  });
  return isBroken ? undefined : made.trim();
}

/** A word, or a function up to its bracket. Names that a file makes up itself keep their letters. */
function wordText(token: string): string {
  const word = token.includes('\\') ? ident.decode(token) : token;
  if (word.startsWith('--')) return word;
  // A sign that is no part of a plain word stays as it is written: it must not end the word.
  return (/^-?[a-z_][\w-]*\(?$/i.test(word) ? word : token).toLowerCase();
}
