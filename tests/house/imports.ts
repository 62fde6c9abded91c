import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative } from 'node:path';

/** Every source file, relative to `src`, sorted. */
export const sourceFiles = (): string[] =>
  readdirSync('src', { recursive: true, encoding: 'utf8' })
    .filter((f) => /\.tsx?$/.test(f))
    .map((f) => f.replaceAll('\\', '/'))
    .sort();

/** What a source file imports, as written: types, values, and what is brought in when it is called. */
export const importsOf = (file: string): string[] =>
  [...readFileSync(join('src', file), 'utf8').matchAll(/(?:from|import)\s*\(?\s*'([^']+)'/g)].map(
    (m) => m[1]!,
  );

/** The source file, relative to `src`, that an import names; undefined for a package. */
export function targetOf(file: string, imported: string): string | undefined {
  if (!imported.startsWith('.')) return undefined;
  const target = relative('src', join('src', dirname(file), imported));
  return target.replaceAll('\\', '/').replace(/\.js$/, '.ts');
}

/**
 * Groups of files that import one another in a circle: the strongly connected components of more than one file
 * (Tarjan 1972, from memory), each sorted.
 */
export function circlesIn(graph: ReadonlyMap<string, readonly string[]>): string[][] {
  const index = new Map<string, number>();
  const low = new Map<string, number>();
  const stack: string[] = [];
  const circles: string[][] = [];
  const visit = (file: string): void => {
    index.set(file, index.size);
    low.set(file, index.get(file)!);
    stack.push(file);
    for (const next of graph.get(file) ?? []) {
      if (!index.has(next)) visit(next);
      if (stack.includes(next)) low.set(file, Math.min(low.get(file)!, low.get(next)!));
    }
    if (low.get(file) !== index.get(file)) return;
    const circle = stack.splice(stack.indexOf(file));
    if (circle.length > 1) circles.push(circle.sort());
  };
  for (const file of graph.keys()) if (!index.has(file)) visit(file);
  return circles;
}
