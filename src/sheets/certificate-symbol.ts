import { encodeQR } from 'qr';

/** The dark modules of a symbol, row by row from the top. */
export type Modules = readonly (readonly boolean[])[];

/** Side of a module, mm: four dots and more of an office printer, and seen by the camera of a telephone. */
export const MODULE_MM = 0.35;

/** ISO/IEC 18004: four modules round a symbol stay empty. */
export const QUIET_MODULES = 4;

/** A QR symbol of a text in capitals and digits, of which 15 % may be lost (level M). */
export function modulesOf(text: string): Modules {
  const framed = encodeQR(text, 'raw', { ecc: 'medium', encoding: 'alphanumeric', border: 1 });
  return framed.slice(1, -1).map((row) => row.slice(1, -1));
}

/**
 * The dark areas as closed outlines in modules, y down, dark on the left of every edge: single squares would show
 * hairlines between them where a screen smooths edges.
 */
export function outlinesOf(modules: Modules): (readonly [x: number, y: number])[][] {
  const n = modules.length;
  const dark = (x: number, y: number): boolean => modules[y]?.[x] === true;
  /** Edges by the corner they start from; two only where dark areas touch at a corner. */
  const edges = new Map<number, { dx: number; dy: number }[]>();
  const key = (x: number, y: number): number => y * (n + 1) + x;
  const edge = (x: number, y: number, dx: number, dy: number): void => {
    edges.set(key(x, y), [...(edges.get(key(x, y)) ?? []), { dx, dy }]);
  };
  for (let y = 0; y < n; y++)
    for (let x = 0; x < n; x++) {
      if (!dark(x, y)) continue;
      if (!dark(x, y - 1)) edge(x + 1, y, -1, 0);
      if (!dark(x - 1, y)) edge(x, y, 0, 1);
      if (!dark(x, y + 1)) edge(x, y + 1, 1, 0);
      if (!dark(x + 1, y)) edge(x + 1, y + 1, 0, -1);
    }
  const outlines: [number, number][][] = [];
  for (const [start, leaving] of edges) {
    while (leaving.length > 0) {
      const outline: [number, number][] = [];
      let [x, y] = [start % (n + 1), Math.floor(start / (n + 1))];
      let last: { dx: number; dy: number } | undefined;
      do {
        const out = edges.get(key(x, y))!;
        const next = out.pop()!;
        if (!last || last.dx !== next.dx || last.dy !== next.dy) outline.push([x, y]);
        last = next;
        x += next.dx;
        y += next.dy;
      } while (key(x, y) !== start);
      outlines.push(outline);
    }
  }
  return outlines;
}
