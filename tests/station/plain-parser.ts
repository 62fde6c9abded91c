/** A plain reader of programs for tests. It shares nothing with src/station: not words, not order, not geometry. */

export interface PlainMove {
  /** Index of the text line, from 0. */
  readonly n: number;
  readonly rapid: boolean;
  readonly fromX: number;
  readonly fromA: number;
  readonly fromZ: number;
  readonly x: number;
  readonly a: number;
  readonly z: number;
  readonly f: number;
  /** The G1 line itself had an F. */
  readonly ownF: boolean;
}

export interface Plain {
  readonly lines: readonly string[];
  readonly comments: readonly string[];
  readonly moves: readonly PlainMove[];
  /** Every line that is neither comment nor move. */
  readonly settings: readonly string[];
  readonly inverse: boolean;
}

const NUMBER = String.raw`-?\d+(\.\d+)?`;
const MOVE = new RegExp(`^G([01])( X${NUMBER})?( A${NUMBER})?( Z${NUMBER})?( F${NUMBER})?$`);
const SETTING = new RegExp(`^[GMSTP]${NUMBER}( [GMSTP]${NUMBER})*$`);

export function plainly(text: string): Plain {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: nothing but printable ASCII and line feeds is allowed
  if (/[^\x0a\x20-\x7e]/.test(text)) throw new Error('not plain ASCII');
  if (!text.endsWith('\n')) throw new Error('no last line feed');
  const lines = text.slice(0, -1).split('\n');
  const comments: string[] = [];
  const settings: string[] = [];
  const moves: PlainMove[] = [];
  let [x, a, z, f] = [Number.NaN, Number.NaN, Number.NaN, Number.NaN];
  lines.forEach((line, n) => {
    if (line.length > 256) throw new Error(`line ${n} is ${line.length} long`);
    if (line.startsWith('(')) {
      if (!/^\([^()]+\)$/.test(line)) throw new Error(`bad comment: ${line}`);
      comments.push(line.slice(1, -1));
      return;
    }
    const move = MOVE.exec(line);
    if (!move) {
      if (!SETTING.test(line)) throw new Error(`illegal words: ${line}`);
      settings.push(line);
      return;
    }
    if (/-0(\.0*)?(?![.\d])/.test(line)) throw new Error(`minus nought: ${line}`);
    if (/[XAZF]-?\d+(?![.\d])/.test(line)) throw new Error(`no point: ${line}`);
    const word = (letter: string, before: number) => {
      const found = line.split(' ').find((w) => w.startsWith(letter));
      return found ? Number(found.slice(1)) : before;
    };
    const next = { x: word('X', x), a: word('A', a), z: word('Z', z), f: word('F', f) };
    const ownF = line.includes(' F');
    moves.push({ n, rapid: move[1] === '0', fromX: x, fromA: a, fromZ: z, ...next, ownF });
    ({ x, a, z, f } = next);
  });
  return { lines, comments, moves, settings, inverse: settings.includes('G93') };
}

/** Feed moves that turn or travel, grouped by what stands between two rapids. */
export function strokes(plain: Plain): PlainMove[][] {
  const all: PlainMove[][] = [];
  let open: PlainMove[] | undefined;
  for (const move of plain.moves) {
    if (move.rapid) {
      open = undefined;
      continue;
    }
    if (!open) {
      open = [];
      all.push(open);
    }
    open.push(move);
  }
  return all;
}
