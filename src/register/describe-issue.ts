import type { z } from 'zod';

/** What is wrong with one member of a request, in words: `by is empty`, `count is less than 1`. */
export function describeIssue(issue: z.core.$ZodIssue): string {
  const name = issue.path.join('.') || 'it';
  switch (issue.code) {
    case 'unrecognized_keys':
      return `${issue.keys.join(', ')} cannot be given with it`;
    case 'invalid_type':
      return issue.expected === 'int'
        ? `${name} is not a whole number`
        : `${name} is missing or not a ${issue.expected}`;
    case 'too_small':
      if (issue.origin === 'string') return `${name} is empty`;
      return issue.origin === 'array' ? `${name} is an empty list` : `${name} is less than ${issue.minimum}`;
    case 'too_big':
      if (issue.origin === 'string') return `${name} has more than ${issue.maximum} characters`;
      return issue.origin === 'array'
        ? `${name} has more than ${issue.maximum} entries`
        : `${name} is more than ${issue.maximum}`;
    case 'invalid_union':
      return `${name} is not a day, such as 2031-03-01`;
    default:
      // Formats and conditions of our own bring their words: "must not be blank".
      return `${name} ${issue.message.startsWith('must') ? issue.message : 'is not well formed'}`;
  }
}
