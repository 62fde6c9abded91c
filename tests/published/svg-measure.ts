import paper from 'paper/dist/paper-core.js';

/** Signed area, and box as left, top, right, bottom. */
export interface Measure {
  readonly area: number;
  readonly box: readonly [number, number, number, number];
}

/** Path data under transforms, as paper.js imports and measures it. */
export function measured(drawn: readonly (readonly [d: string, transform: string])[]): Measure {
  const scope = new paper.PaperScope();
  scope.setup(new paper.Size(1, 1));
  const items = drawn.map(([pathData, transform]) => {
    const item = new scope.CompoundPath({ pathData, insert: false });
    item.transform(matrixOf(transform));
    return item;
  });
  const boxes = items.map(({ bounds }) => bounds);
  const edge = (of: (...v: number[]) => number, side: 'left' | 'top' | 'right' | 'bottom') =>
    of(...boxes.map((b) => b[side]));
  return {
    area: items.reduce((sum, item) => sum + item.area, 0),
    box: [edge(Math.min, 'left'), edge(Math.min, 'top'), edge(Math.max, 'right'), edge(Math.max, 'bottom')],
  };
}

/** A list of transforms as paper.js's matrix, which does each one by itself. */
function matrixOf(list: string): paper.Matrix {
  const matrix = new paper.Matrix();
  for (const [, name, text] of list.matchAll(/([a-zA-Z]+)\(([^)]*)\)/g)) {
    const v = text!
      .trim()
      .split(/[\s,]+/)
      .map(Number);
    const tan = (degrees: number) => Math.tan((degrees * Math.PI) / 180);
    if (name === 'translate') matrix.translate(v[0]!, v[1] ?? 0);
    else if (name === 'scale') matrix.scale(v[0]!, v[1] ?? v[0]!);
    else if (name === 'rotate') matrix.rotate(v[0]!, new paper.Point(v[1] ?? 0, v[2] ?? 0));
    else if (name === 'skewX') matrix.shear(tan(v[0]!), 0);
    else if (name === 'skewY') matrix.shear(0, tan(v[0]!));
    else matrix.append(new paper.Matrix(v[0]!, v[1]!, v[2]!, v[3]!, v[4]!, v[5]!));
  }
  return matrix;
}
