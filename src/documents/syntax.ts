import type { ErrorCode, YAMLError } from 'yaml';
import type { textMessages } from './messages/text.js';

/** The codes of slips in the YAML itself. */
type SlipCode = Exclude<
  Extract<keyof typeof textMessages, `documents.yaml-${string}`>,
  | 'documents.yaml-not-keys'
  | 'documents.yaml-too-deep'
  | 'documents.yaml-key-reserved'
  | 'documents.yaml-key-twice'
>;

const codes: Partial<Record<ErrorCode, SlipCode>> = {
  TAB_AS_INDENT: 'documents.yaml-tab',
  MISSING_CHAR: 'documents.yaml-unclosed',
  MULTILINE_IMPLICIT_KEY: 'documents.yaml-not-key-value',
  BLOCK_AS_IMPLICIT_KEY: 'documents.yaml-two-keys',
  BLOCK_IN_FLOW: 'documents.yaml-lines-in-brackets',
  BAD_SCALAR_START: 'documents.yaml-text-start',
  BAD_DQ_ESCAPE: 'documents.yaml-escape',
  KEY_OVER_1024_CHARS: 'documents.yaml-long-key',
  BAD_ALIAS: 'documents.yaml-reference',
  ALIAS_PROPS: 'documents.yaml-reference',
  MULTIPLE_ANCHORS: 'documents.yaml-reference',
  MULTIPLE_TAGS: 'documents.yaml-tag',
  TAG_RESOLVE_FAILED: 'documents.yaml-tag',
  BAD_DIRECTIVE: 'documents.yaml-tag',
  MULTIPLE_DOCS: 'documents.yaml-second-document',
  UNEXPECTED_TOKEN: 'documents.yaml-stray',
};

/** Where the first quote and the first bracket stand that are not closed. */
export interface OpenMarks {
  readonly openQuoteAt: number | undefined;
  readonly openBracketAt: number | undefined;
}

export interface Slip {
  readonly offset: number;
  readonly code: SlipCode;
}

/**
 * Slips in the YAML itself, named for someone who knows pens rather than YAML, and at the place to correct: a quote
 * or bracket that is never closed shows only at the end of what it swallowed, far from where it was opened, and what
 * follows it is read wrongly, so nothing more is reported.
 */
export function* slips(
  errors: readonly YAMLError[],
  text: string,
  { openQuoteAt, openBracketAt }: OpenMarks,
): Generator<Slip> {
  for (const error of errors) {
    const offset = error.pos[0];
    const start = text.lastIndexOf('\n', offset - 1) + 1;
    const indent = /^[ \t]*/.exec(text.slice(start, start + 200))?.[0] ?? '';
    const { code } = error;
    // The library has one code for several slips; what was left open tells them apart.
    const mayBeOpen = code === 'MISSING_CHAR' || code === 'BAD_INDENT';
    if (indent.includes('\t')) yield slip(start + indent.indexOf('\t'), 'documents.yaml-tab');
    else if (code === 'MISSING_CHAR' && isBefore(openQuoteAt, offset)) {
      yield slip(openQuoteAt, 'documents.yaml-open-quote');
      return;
    } else if (mayBeOpen && isBefore(openBracketAt, offset)) {
      yield slip(openBracketAt, 'documents.yaml-open-bracket');
      return;
    } else if (code === 'BAD_INDENT' || isItemWithoutDash(error, start, indent)) {
      yield slip(start + indent.length, 'documents.yaml-indent');
    } else if (code === 'BLOCK_AS_IMPLICIT_KEY' && errors.some((e) => e !== error && e.pos[0] === offset)) {
      yield slip(offset, 'documents.yaml-continues');
    } else yield slip(offset, codes[code] ?? 'documents.yaml-stray');
  }
}

/** Where an item of a list lacks its dash, the library misses a character at the very start of an indented line. */
const isItemWithoutDash = ({ code, pos }: YAMLError, start: number, indent: string): boolean =>
  code === 'MISSING_CHAR' && pos[0] === start && indent !== '';

const isBefore = (opened: number | undefined, offset: number): opened is number =>
  opened !== undefined && opened < offset;

const slip = (offset: number, code: SlipCode): Slip => ({ offset, code });
