/** The page of docs/ that lists every message: written by `npm run messages`, and held equal by a test. */
import { writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const TOP = `# Messages

Everything that burin can say about a problem, from the message tables of the rooms. \`npm run messages\` writes this page; a
test keeps it equal to the tables.

A message reads \`where: message hint\`. Names in braces are filled in: \`{size, number, mm}\` is a length in millimetres to
a thousandth, \`{angle, number, deg}\` an angle in degrees to a hundredth, \`{n, plural, ...}\` a count. With \`--json\` each problem is
\`{code, where, message, hint, values}\`. The exit code belongs to the code of the first problem: 1 for what was found wrong, 2 for
what was asked or written wrongly, 3 for what a rule refuses.
`;

const PHRASES = `## Phrases\n\nParts of the messages above, filled in for a name in braces.\n`;

const cell = (text) => text.replaceAll('|', '\\|').replaceAll('\n', ' ');

/** The page, from tables by what their problems are about, and from phrases by what they tell. */
export function messagesPage(tables, phraseTables) {
  const parts = Object.entries(tables).map(([about, table]) => {
    const rows = Object.entries(table).map(
      ([code, { exit, message, hint }]) => `| \`${code}\` | ${exit} | ${cell(message)} | ${cell(hint)} |`,
    );
    return `## ${about}\n\n| code | exit | message | hint |\n|---|---|---|---|\n${rows.join('\n')}\n`;
  });
  const kinds = Object.entries(phraseTables).map(([about, { between, phrases }]) => {
    const rows = Object.entries(phrases).map(([code, text]) => `| \`${code}\` | ${cell(text)} |`);
    const joint = `Between two of them stands \`${between}\`.`;
    return `### ${about}\n\n${joint}\n\n| code | phrase |\n|---|---|\n${rows.join('\n')}\n`;
  });
  return [TOP, ...parts, PHRASES, ...kinds].join('\n');
}

export const page = fileURLToPath(new URL('../../docs/messages.md', import.meta.url));

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const { messageTables, phraseTables } = await import('../../dist/app/message-tables.js');
  const { table: cli } = await import('../../dist/cli/messages.js');
  writeFileSync(page, messagesPage({ ...messageTables, cli }, phraseTables));
}
