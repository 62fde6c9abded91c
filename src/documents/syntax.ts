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

export interface Slip {
  readonly offset: number;
  readonly code: SlipCode;
}

/**
 * Slips in the YAML itself, named for someone who knows pens rather than YAML, and at the place to correct: a quote
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
    // The library has one code for several slips; its sentence alone tells them apart.
    const { code, message } = error;
    if (indent.includes('\t')) yield slip(start + indent.indexOf('\t'), 'documents.yaml-tab');
    else if (code === 'MISSING_CHAR' && message.includes('quote'))
      yield slip(quoteAt, 'documents.yaml-open-quote');
    else if (/and end with a [\]}]$/.test(message))
      yield slip(bracketAt ?? offset, 'documents.yaml-open-bracket');
    else if (code === 'BAD_INDENT' || message.startsWith('Sequence item without')) {
      yield slip(start + indent.length, 'documents.yaml-indent');
    } else if (code === 'BLOCK_AS_IMPLICIT_KEY' && errors.some((e) => e !== error && e.pos[0] === offset)) {
      yield slip(offset, 'documents.yaml-continues');
    } else yield slip(offset, codes[code] ?? 'documents.yaml-stray');
  }
}

const slip = (offset: number, code: SlipCode): Slip => ({ offset, code });
