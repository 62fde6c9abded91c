/** A command that a page shows, with the lines it shows as printed by it. */
export interface ShownCommand {
  readonly words: readonly string[];
  readonly shown: readonly string[];
}

/** The commands of a page's `console` blocks, in order: `$ npx burin ...`, then what is printed. */
export function commandsOf(markdown: string): ShownCommand[] {
  const commands: { words: string[]; shown: string[] }[] = [];
  for (const [, block] of markdown.matchAll(/^```console\n(.*?)^```$/gms))
    for (const line of block!.trimEnd().split('\n')) {
      const command = /^\$ npx burin (.*)$/.exec(line)?.[1];
      if (command !== undefined) commands.push({ words: wordsOf(command), shown: [] });
      else if (commands.length === 0 || line.startsWith('$'))
        throw new Error(`not a command of burin: ${line}`);
      else commands.at(-1)!.shown.push(line);
    }
  return commands;
}

/** The words of a command line; double quotes hold words together, and nothing else of a shell is known. */
const wordsOf = (line: string): string[] =>
  (line.match(/"[^"]*"|\S+/g) ?? []).map((word) => word.replace(/^"(.*)"$/, '$1'));

/** Whether printed text is as shown. `…` stands for the rest of a line, or alone on a line for any number of lines. */
export function isAsShown(printed: string, shown: readonly string[]): boolean {
  const pattern = shown.map((line) =>
    line === '…' ? '(?:.*\\n)*' : `${line.split('…').map(literal).join('.+')}\\n`,
  );
  return new RegExp(`^${pattern.join('')}$`).test(printed);
}

const literal = (text: string): string => text.replace(/[\\^$.*+?()[\]{}|]/g, '\\$&');

/** What the links and pictures of a page lead to, less the web and headings. */
export const linksOf = (markdown: string): string[] =>
  [...markdown.matchAll(/\]\(([^)#]+)[^)]*\)|src="([^"]+)"/g)]
    .map(([, link, source]) => (link ?? source)!)
    .filter((target) => !/^https?:/.test(target));

/** The files that commands name, and that they say they wrote: words with a folder or an ending. */
export const filesOf = (commands: readonly ShownCommand[]): string[] => {
  const words = commands.flatMap(({ words, shown }) => [
    ...words,
    ...shown.flatMap((line) => line.split(/[ ,;:]+/)),
  ]);
  return [
    ...new Set(words.filter((word) => /^[a-z][\w./-]*\.(nc|svg|html|pdf|json|pub|png)\.?$/.test(word))),
  ].map((word) => word.replace(/\.$/, ''));
};
