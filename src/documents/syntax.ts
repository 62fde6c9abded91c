import type { ErrorCode, YAMLError } from 'yaml';

type Wording = readonly [what: string, cure: string];

const TAB: Wording = ['This line is indented with a tab.', 'Indent with spaces, two a level.'];
const INDENT: Wording = [
  'This line is indented differently from those it belongs with.',
  'Line it up with its neighbours, two spaces a level.',
];
const RUN_ON: Wording = [
  'The next line is indented as if it went on from this one.',
  'Line it up with its neighbours, two spaces a level.',
];
const OPEN_QUOTE: Wording = ['A quoted text is not closed.', 'Add the closing quote.'];
const OPEN_BRACKET: Wording = ['A bracket is not closed.', 'Add the closing bracket.'];
const ELSEWHERE: Wording = ['Anchors and references are not taken.', 'Write the value out.'];
const TAG: Wording = ['Directives and tags are not taken.', 'Remove the `%` line or the `!` tag.'];
const STRAY: Wording = [
  'This does not belong here.',
  'Put text with signs such as `:`, `#` or quotes inside quotes, and check the line above.',
];
const UNCLOSED: Wording = [
  'A quote, bracket or colon is missing here.',
  'Close what was opened, or write `key: value`.',
];

const wordings: Partial<Record<ErrorCode, Wording>> = {
  TAB_AS_INDENT: TAB,
  MISSING_CHAR: UNCLOSED,
  MULTILINE_IMPLICIT_KEY: [
    'This line is no `key: value`.',
    'Look for a missing colon, dash or closing quote.',
  ],
  BLOCK_AS_IMPLICIT_KEY: [
    'A second `key: value` stands on the same line.',
    'Give each key its own line, and put text with a colon in quotes.',
  ],
  BLOCK_IN_FLOW: ['Indented lines stand inside brackets.', 'Write the brackets on one line or do without.'],
  BAD_SCALAR_START: ['This text begins with a sign that has a meaning of its own.', 'Put it in quotes.'],
  BAD_DQ_ESCAPE: ['This backslash is not understood.', 'Double it, or use single quotes.'],
  KEY_OVER_1024_CHARS: ['This key is far too long.', 'Look for a missing colon or closing quote.'],
  BAD_ALIAS: ELSEWHERE,
  ALIAS_PROPS: ELSEWHERE,
  MULTIPLE_ANCHORS: ELSEWHERE,
  MULTIPLE_TAGS: TAG,
  TAG_RESOLVE_FAILED: TAG,
  BAD_DIRECTIVE: TAG,
  MULTIPLE_DOCS: ['A second document begins here.', 'Keep one document in a file.'],
  UNEXPECTED_TOKEN: STRAY,
};

export interface Slip {
  readonly offset: number;
  readonly what: string;
  readonly cure: string;
}

/**
 * Slips in the YAML itself, in words for someone who knows pens rather than YAML, and at the place to mend: a quote
 * or bracket that is never closed shows only at the end of what it swallowed, far from where it was opened.
 */
export function* slips(
  errors: readonly YAMLError[],
  text: string,
  quoteAt: number,
  bracketAt: number | undefined,
): Generator<Slip> {
  for (const error of errors) {
    const offset = error.pos[0];
    const start = text.lastIndexOf('\n', offset - 1) + 1;
    const indent = /^[ \t]*/.exec(text.slice(start, start + 200))?.[0] ?? '';
    const { code, message } = error;
    if (indent.includes('\t')) yield slip(start + indent.indexOf('\t'), TAB);
    else if (code === 'MISSING_CHAR' && message.includes('quote')) yield slip(quoteAt, OPEN_QUOTE);
    else if (/and end with a [\]}]$/.test(message)) yield slip(bracketAt ?? offset, OPEN_BRACKET);
    else if (code === 'BAD_INDENT' || message.startsWith('Sequence item without')) {
      yield slip(start + indent.length, INDENT);
    } else if (code === 'BLOCK_AS_IMPLICIT_KEY' && errors.some((e) => e !== error && e.pos[0] === offset)) {
      yield slip(offset, RUN_ON);
    } else yield slip(offset, wordings[code] ?? STRAY);
  }
}

const slip = (offset: number, [what, cure]: Wording): Slip => ({ offset, what, cure });
