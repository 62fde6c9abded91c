import type { ErrorCode, YAMLError } from 'yaml';
import { type Problem, problem } from '../problem.js';

type Wording = readonly [what: string, cure: string];

const TAB: Wording = ['This line is indented with a tab.', 'Indent with spaces, two a level.'];
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
  BAD_INDENT: [
    'This line is indented differently from those it belongs with.',
    'Line it up with its neighbours, two spaces a level.',
  ],
  MISSING_CHAR: UNCLOSED,
  MULTILINE_IMPLICIT_KEY: [
    'A key runs over more than one line.',
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

/** A slip in the YAML itself, in words for someone who knows pens rather than YAML. */
export function syntaxProblem(where: string, error: YAMLError, text: string): Problem {
  const start = text.lastIndexOf('\n', error.pos[0] - 1) + 1;
  const onTab = /^ *\t/.test(text.slice(start, start + 200));
  const unquoted = error.code === 'MISSING_CHAR' && error.message.includes('quote');
  const [what, cure] = onTab
    ? TAB
    : unquoted
      ? ['A quoted text is not closed.', 'Add the closing quote.']
      : (wordings[error.code] ?? STRAY);
  return problem(where, what, cure);
}
