import { hash } from 'node:crypto';

/** SHA-256 of files, in hex, by their paths below the output folder. */
export type Digests = ReadonlyMap<string, string>;

/** Lists what burin wrote into an output folder, in the form that `sha256sum -c` reads. */
export const OUTPUT_LIST = 'files.sha256';

const HEAD =
  '# What burin wrote here. It replaces only what is still as listed. To check: sha256sum -c files.sha256\n';
const ROW = /^([0-9a-f]{64}) {2}(.+)$/;

export const sha256 = (data: string | Uint8Array): string => hash('sha256', data);

/** In the order of the paths, so that the same files give the same list. */
export const formatOutputList = (digests: Digests): string =>
  HEAD +
  [...digests]
    .sort(byPath)
    .map(([path, digest]) => `${digest}  ${path}\n`)
    .join('');

const byPath = ([a]: readonly [string, string], [b]: readonly [string, string]): number => (a < b ? -1 : 1);

/** Undefined for a text that is no such list. */
export function parseOutputList(text: string): Digests | undefined {
  if (!text.startsWith(HEAD)) return undefined;
  const rows = text.slice(HEAD.length).split('\n');
  // A list that was cut short is none: what its last row means is not known.
  if (rows.pop() !== '') return undefined;
  const digests = new Map<string, string>();
  for (const row of rows) {
    const [, digest, path] = ROW.exec(row) ?? [];
    if (digest === undefined || path === undefined) return undefined;
    digests.set(path, digest);
  }
  return digests;
}
