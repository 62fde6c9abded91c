import { isMap, isScalar, isSeq, type LineCounter, type Node, type Pair } from 'yaml';
import { quote } from './quote.js';

/** Keys and places in lists, from the top of a document. */
export type Path = readonly (string | number)[];

/** Names the place of a value for a problem: `parts/barrel.yaml:14:7: keepouts[1].to`. */
export type At = (...path: (string | number)[]) => string;

export function pathText(path: Path): string {
  let text = '';
  for (const step of path) {
    if (typeof step === 'number') text += `[${step}]`;
    else if (/^[A-Za-z0-9_-]{1,63}$/.test(step)) text += text ? `.${step}` : step;
    else text += `[${quote(step, 30)}]`;
  }
  return text;
}

/** Where the values of one document stand in its file. */
export class Places {
  readonly #file: string;
  readonly #root: Node | null;
  readonly #counter: LineCounter;

  constructor(file: string, root: Node | null, counter: LineCounter) {
    this.#file = file;
    this.#root = root;
    this.#counter = counter;
  }

  /** The place of a value; of the mapping or list it is missing from when it is not written. */
  readonly at: At = (...path) => this.#named(this.#offset(path), path);

  /** The place of the key itself rather than of its value. */
  readonly atKey: At = (...path) => {
    const parent = this.#node(path.slice(0, -1));
    const pair = parent && pairOf(parent, path.at(-1));
    return this.#named(pair ? startOf(pair.key) : this.#offset(path), path);
  };

  /** The place of an offset into the text. */
  offset(offset: number, path: Path = []): string {
    return this.#named(offset, path);
  }

  /** A number or a word as it is written, such as `1e400` or `3.10`. */
  written(path: Path): string | undefined {
    const node = this.#node(path);
    return isScalar(node) && node.type === 'PLAIN' ? node.source : undefined;
  }

  #named(offset: number, path: Path): string {
    const { line, col } = this.#counter.linePos(Math.max(0, offset));
    const text = pathText(path);
    return `${this.#file}:${Math.max(1, line)}:${Math.max(1, col)}${text ? `: ${text}` : ''}`;
  }

  #offset(path: Path): number {
    let node = this.#root;
    let offset = startOf(node);
    for (const step of path) {
      if (isMap(node)) {
        const pair = pairOf(node, step);
        if (!pair) break;
        const value = pair.value as Node | null;
        // `to:` with nothing after it has no place of its own: go to the key
        offset = hasSource(value) ? startOf(value) : startOf(pair.key);
        node = value;
      } else if (isSeq(node) && typeof step === 'number') {
        const item = node.items[step] as Node | undefined;
        if (!item) break;
        if (hasSource(item)) offset = startOf(item);
        node = item;
      } else break;
    }
    return offset;
  }

  #node(path: Path): Node | null {
    let node = this.#root;
    for (const step of path) {
      if (isMap(node)) node = (pairOf(node, step)?.value ?? null) as Node | null;
      else if (isSeq(node) && typeof step === 'number') node = (node.items[step] ?? null) as Node | null;
      else return null;
    }
    return node;
  }
}

function pairOf(node: Node, key: string | number | undefined): Pair | undefined {
  if (!isMap(node)) return undefined;
  return node.items.find((pair) => isScalar(pair.key) && pair.key.value === key);
}

function startOf(node: unknown): number {
  const range = (node as Node | null)?.range;
  return range ? range[0] : 0;
}

function hasSource(node: Node | null): boolean {
  return !!node?.range && node.range[1] > node.range[0];
}
