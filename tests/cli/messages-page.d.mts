import type { MessageTable, PhraseTable } from '../../src/problem.js';

export function messagesPage(
  tables: Readonly<Record<string, MessageTable>>,
  phraseTables: Readonly<Record<string, PhraseTable>>,
): string;
export const page: string;
