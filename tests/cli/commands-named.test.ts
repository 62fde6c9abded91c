import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { messageTables } from '../../src/app/message-tables.js';
import { table as cli } from '../../src/cli/messages.js';
import type { MessageTable } from '../../src/problem.js';
import { burin } from './burin.js';

/** A command as a message or a page names it, and where. */
interface Named {
  readonly where: string;
  readonly words: readonly string[];
}

const wordsOf = (text: string): string[] => text.replace(/\\\|/g, '|').trim().split(/\s+/);

function namedInMessages(): Named[] {
  const tables: readonly MessageTable[] = [...Object.values(messageTables), cli];
  return tables.flatMap((table) =>
    Object.entries(table).flatMap(([code, { message, hint }]) =>
      [...`${message} ${hint ?? ''}`.matchAll(/`burin ([^`]+)`/g)].map((m) => ({
        where: code,
        words: wordsOf(m[1]!),
      })),
    ),
  );
}

function namedInPages(): Named[] {
  const pages = ['README.md', ...readdirSync('docs').map((name) => join('docs', name))];
  return pages
    .filter((page) => page.endsWith('.md') && !page.endsWith('messages.md'))
    .flatMap((page) => {
      const text = readFileSync(page, 'utf8');
      const inline = [...text.matchAll(/`burin ([^`\n]+)`/g)].map((m) => m[1]!);
      // A line of a block of code, whatever comes after it in the shell.
      const blocks = [...text.matchAll(/^(?: {4}|\$ )(?:npx )?burin (.+)$/gm)].map(
        (m) => m[1]!.split(/ #| \| /)[0]!,
      );
      return [...inline, ...blocks].map((words) => ({ where: page, words: wordsOf(words) }));
    });
}

const helps = new Map<string, Promise<string>>();
/** What `--help` of a command says; of the program as a whole where there is no such command. */
function helpOf(command: readonly string[]): Promise<string> {
  const name = command.join(' ');
  const known = helps.get(name) ?? burin([...command, '--help']).then(({ stdout }) => stdout);
  helps.set(name, known);
  return known;
}

/** The commands that a help lists, by name. */
const listedIn = (help: string): Set<string> =>
  new Set([...help.matchAll(/^ {2}([a-z][a-z-]*)(?= |$)/gm)].map((m) => m[1]!));

async function faultOf({ where, words }: Named): Promise<string | undefined> {
  const [name, second] = words as [string, string?];
  // A placeholder for any of several commands.
  if (/[{<$]/.test(name) || name.startsWith('-')) return undefined;
  if (!listedIn(await helpOf([])).has(name)) return `${where}: no command ${name}`;
  const sub =
    second !== undefined && listedIn(await helpOf([name])).has(second) && /^(key|witness)$/.test(name);
  const help = await helpOf(sub ? [name, second] : [name]);
  const known = new Set([...help.matchAll(/--[a-z][a-z-]*/g)].map(([option]) => option));
  for (const global of ['--workshop', '--json', '--help', '--version']) known.add(global);
  const strange = words
    .flatMap((word) => /^\[?(--[a-z][a-z-]*)/.exec(word)?.[1] ?? [])
    .find((option) => !known.has(option));
  if (strange) return `${where}: burin ${name} has no option ${strange}`;
  const takesArguments = /^Usage: .*[<[](?!options)/m.test(help.replace(/\[options\]/g, ''));
  const given = words.slice(sub ? 2 : 1).find((word) => !/^[-[\].]|\]$/.test(word));
  const afterOption = words.some((word) => word.startsWith('--'));
  return given !== undefined && !takesArguments && !afterOption
    ? `${where}: burin ${name} takes no ${given}`
    : undefined;
}

test('every command that a message or a page names exists, with the options that it is given', async () => {
  const named = [...namedInMessages(), ...namedInPages()];
  expect(named.length).toBeGreaterThan(100);
  const faults = await Promise.all(named.map(faultOf));
  expect(faults.filter((fault) => fault !== undefined)).toEqual([]);
});
