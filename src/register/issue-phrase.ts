import type { z } from 'zod';
import { controlCharacterOf } from '../documents/quote.js';
import { RULES } from '../documents/schema/scalar.js';
import type { Phrase } from '../problem.js';
import { CONDITIONS, faults, fields } from './phrases.js';

/** For `safeParse`: issues keep the value that they are about. */
export const WITH_INPUT = { reportInput: true } as const;

const FORMS: Readonly<Record<string, string>> = {
  string: 'text',
  number: 'a number',
  array: 'a list',
  object: 'a mapping',
};

/** What keeps text from being one line. */
function linePhrase(name: Phrase, text: string): Phrase {
  const character = controlCharacterOf(text);
  if (character === 'line break') return faults.phrase('register.fault-line-break', { name });
  return character === undefined
    ? faults.phrase('register.fault-form', { name })
    : faults.phrase('register.fault-control-character', { name, character });
}

const FIELDS = {
  by: 'register.field-by',
  why: 'register.field-why',
  to: 'register.field-to',
  on: 'register.field-on',
  witness: 'register.field-witness',
  part: 'register.field-part',
  key: 'register.field-key',
} as const;

function fieldPhrase(path: readonly PropertyKey[]): Phrase {
  const name = path.join('.');
  if (name === '') return fields.phrase('register.field-request', {});
  return Object.hasOwn(FIELDS, name)
    ? fields.phrase(FIELDS[name as keyof typeof FIELDS], {})
    : fields.phrase('register.field-other', { path: name });
}

/** What is wrong with one member of a request, such as "the reason (--why) is empty". The issue must come with its input (`WITH_INPUT`). */
export function issuePhrase(issue: z.core.$ZodIssue): Phrase {
  const name = fieldPhrase(issue.path);
  switch (issue.code) {
    case 'unrecognized_keys':
      return faults.phrase('register.fault-not-wanted', {
        names: issue.keys.map((key) => fieldPhrase([...issue.path, key])),
      });
    case 'invalid_type':
      if (issue.input === undefined) return faults.phrase('register.fault-missing', { name });
      return issue.expected === 'int'
        ? faults.phrase('register.fault-not-whole', { name })
        : faults.phrase('register.fault-other-form', { name, expected: FORMS[issue.expected] ?? 'valid' });
    case 'too_small':
      if (issue.origin === 'string') return faults.phrase('register.fault-empty', { name });
      return issue.origin === 'array'
        ? faults.phrase('register.fault-empty-list', { name })
        : faults.phrase('register.fault-too-small', { name, least: String(issue.minimum) });
    case 'too_big': {
      const values = { name, most: String(issue.maximum) };
      if (issue.origin === 'string') return faults.phrase('register.fault-too-long', values);
      return faults.phrase(
        issue.origin === 'array' ? 'register.fault-too-many' : 'register.fault-too-large',
        values,
      );
    }
    case 'invalid_union':
      return faults.phrase('register.fault-not-a-day', { name });
    default: {
      if (issue.message === RULES.id) return faults.phrase('register.fault-not-an-id', { name });
      if (issue.message === RULES.oneLine) return linePhrase(name, String(issue.input));
      const condition = Object.values(CONDITIONS).find((code) => code === issue.message);
      return faults.phrase(condition ?? 'register.fault-form', { name });
    }
  }
}
