import type { z } from 'zod';
import type { Phrase } from '../problem.js';
import { CONDITIONS, faults } from './phrases.js';

/** What is wrong with one member of a request, such as "by is empty". */
export function issuePhrase(issue: z.core.$ZodIssue): Phrase {
  const name = issue.path.join('.') || 'it';
  switch (issue.code) {
    case 'unrecognized_keys':
      return faults.phrase('register.fault-not-wanted', { names: issue.keys });
    case 'invalid_type':
      return issue.expected === 'int'
        ? faults.phrase('register.fault-not-whole', { name })
        : faults.phrase('register.fault-missing', { name, expected: issue.expected });
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
      const condition = Object.values(CONDITIONS).find((code) => code === issue.message);
      return faults.phrase(condition ?? 'register.fault-form', { name });
    }
  }
}
