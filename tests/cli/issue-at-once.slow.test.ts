import { test } from 'vitest';
import { cleanAfterAll } from './folders.js';
import { issueAtOnce } from './issue-at-once.js';

cleanAfterAll();

test('four hands at once, 500 numbers each: 2,000 labels, none twice, no gap', () =>
  issueAtOnce(['E. Marrow', 'O. Vale', 'T. Finch', 'S. Quill'], [1, 1, 3, 45, 150, 300]));
