import type { MessageTable } from '../../src/problem.js';

export function messagesPage(tables: Readonly<Record<string, MessageTable>>): string;
export const page: string;
