import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { IntlMessageFormat } from 'intl-messageformat';
import { describe, expect, test } from 'vitest';
import { messageTables, phraseTables } from '../../src/app/message-tables.js';
import { table as cli } from '../../src/cli/messages.js';
import type { Message, MessageTable, PhraseTable } from '../../src/problem.js';
import { sourceFiles } from '../house/imports.js';
import { messagesPage, page } from './messages-page.mjs';

const tables: Readonly<Record<string, MessageTable>> = { ...messageTables, cli };
const all: [code: string, message: Message][] = Object.values(tables).flatMap((t) => Object.entries(t));

describe('messages', () => {
  test('the tables of all rooms are known to the door', async () => {
    const defining = sourceFiles().filter(
      (file) => file !== 'problem.ts' && /= defineMessages\(/.test(readFileSync(join('src', file), 'utf8')),
    );
    expect(defining.length).toBeGreaterThan(1);
    const known = new Set<unknown>(Object.values(tables));
    const unknown: string[] = [];
    for (const file of defining) {
      const { table } = (await import(`../../src/${file.replace(/\.ts$/, '.js')}`)) as { table?: unknown };
      if (!known.has(table)) unknown.push(file);
    }
    expect(unknown).toEqual([]);
  });

  test('so are the phrases, each with a code of its own', async () => {
    const defining = sourceFiles().filter(
      (file) => file !== 'problem.ts' && /= definePhrases\(/.test(readFileSync(join('src', file), 'utf8')),
    );
    expect(defining.length).toBeGreaterThan(1);
    const known = new Set<PhraseTable>(Object.values(phraseTables));
    const unknown: string[] = [];
    for (const file of defining) {
      const made: Record<string, unknown> = await import(`../../src/${file.replace(/\.ts$/, '.js')}`);
      const kinds = Object.entries(made).filter(([, one]) => one instanceof Object && 'between' in one);
      expect(kinds.length).toBeGreaterThan(0);
      for (const [name, kind] of kinds) if (!known.has(kind as PhraseTable)) unknown.push(`${file}: ${name}`);
    }
    expect(unknown).toEqual([]);
    const phrases = [...known].flatMap((kind) => Object.entries(kind.phrases));
    const codes = [...phrases, ...all].map(([code]) => code);
    expect(codes.filter((code, i) => codes.indexOf(code) < i)).toEqual([]);
    for (const [, text] of phrases) {
      expect(() => new IntlMessageFormat(text, 'en', undefined, { ignoreTag: true })).not.toThrow();
      expect(text).not.toMatch(/[.?!]$/);
    }
  });

  test('a code has one message, and names its subject in kebab-case', () => {
    const codes = all.map(([code]) => code);
    expect(codes.filter((code, i) => codes.indexOf(code) < i)).toEqual([]);
    expect(
      codes.filter((code) => !/^[a-z][a-z0-9]*(-[a-z0-9]+)*(\.[a-z0-9]+(-[a-z0-9]+)*)+$/.test(code)),
    ).toEqual([]);
  });

  test.each(all)('%s is a sentence with a hint', (_, { exit, message, hint }) => {
    expect([1, 2, 3]).toContain(exit);
    for (const text of [message, hint])
      expect(() => new IntlMessageFormat(text, 'en', undefined, { ignoreTag: true })).not.toThrow();
    // A message that is all one value is the sentence of another problem.
    if (!/^\{[a-z]+\}$/i.test(message)) expect(message).toMatch(/[.?!]\)?$/);
    if (!/^\{[a-z]+\}$/i.test(hint) && hint !== '') expect(hint).toMatch(/[.?!]\)?$/);
  });

  test('docs/messages.md lists them all: write it with `npm run messages`', () => {
    expect(readFileSync(page, 'utf8')).toBe(messagesPage(tables, phraseTables));
  });
});
