import { readText } from './bytes.js';
import { readInside } from './files.js';
import { parseYaml } from './yaml.js';

/** Where a `workshop.yaml` says that the register is kept, however little else of it can be read. */
export type RegisterAddress =
  | { readonly is: 'url'; readonly url: string }
  | { readonly is: 'not given' }
  /** It seems to say so, in text that cannot be read. */
  | { readonly is: 'not readable' };

const FILE = 'workshop.yaml';

export async function registerAddressIn(root: string): Promise<RegisterAddress> {
  const read = await readInside(root, FILE);
  if (!read.ok) return { is: 'not given' };
  const text = readText(FILE, read.bytes);
  const tree = text.ok ? parseYaml(FILE, text.text).tree : undefined;
  if (!tree) {
    const mentions = /^[ \t]*["']?register["']?[ \t]*:/m.test(Buffer.from(read.bytes).toString('latin1'));
    return { is: mentions ? 'not readable' : 'not given' };
  }
  const url = (tree.value as { readonly register?: unknown } | null)?.register;
  if (url === undefined || url === null) return { is: 'not given' };
  return typeof url === 'string' ? { is: 'url', url } : { is: 'not readable' };
}
