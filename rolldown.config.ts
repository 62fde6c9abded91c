import { fileURLToPath } from 'node:url';
import type { BuildOptions } from 'rolldown';

/** Packages of plain JavaScript that keeping a register loads. Every other is loaded late, from its own folder. */
const BUNDLED: readonly string[] = [
  'canonicalize',
  'commander',
  'intl-messageformat',
  'kysely',
  'robust-predicates',
  'saxes',
  'svgpath',
  'xmlchars',
  'yaml',
  'zod',
];
const isBundled = (name: string): boolean => name.startsWith('@formatjs/') || BUNDLED.includes(name);

/** Its modules for a browser are the same code; those for Node are CommonJS, which is bundled whole and runs more slowly. */
const YAML = fileURLToPath(new URL('node_modules/yaml/browser/dist/index.js', import.meta.url));

/** What so many of the parts imported when they are called have in common is one file: that is the keeping of a register. */
const SHARED_BY = 12;

/** The package that an import names; undefined for a file. */
const packageOf = (imported: string): string | undefined => /^(?:@[^/]+\/)?\w[^/]*/.exec(imported)?.[0];

/**
 * The command as a user runs it: `src/cli/main.ts` and what it loads, in a few files, because Node takes longer to find and
 * read hundreds of modules than most commands take to run. What is imported when it is called stays in files of its own.
 * `dist/bin/` lies as deep as the folders of `src/`, so that paths relative to `import.meta.url` hold.
 */
export default {
  input: { burin: 'src/cli/main.ts' },
  platform: 'node',
  tsconfig: 'tsconfig.json',
  transform: { target: 'es2023' },
  resolve: { alias: { yaml: YAML } },
  external: (imported) => {
    const name = packageOf(imported);
    return name !== undefined && !isBundled(name);
  },
  // Names and lines stay as they are: whoever corrects a fault reads where it came from.
  output: {
    dir: 'dist/bin',
    cleanDir: true,
    sourcemap: true,
    chunkFileNames: '[name]-[hash].js',
    codeSplitting: {
      groups: [
        // What every command loads. `main.ts` waits for its command, so no other file may wait for `main.ts`.
        { name: 'start', tags: ['$initial'], test: (id) => !id.endsWith('/src/cli/main.ts'), priority: 1 },
        { name: 'shared', minShareCount: SHARED_BY },
      ],
    },
  },
} satisfies BuildOptions;
