/** A double as a fraction of whole numbers: numerator over 2^scale, exactly. */
const SCALE = 1100n;

export function exact(value: number): bigint {
  let scale = 0n;
  let v = value;
  while (!Number.isInteger(v)) {
    v *= 2;
    scale++;
  }
  return BigInt(v) << (SCALE - scale);
}

/** The sign of twice the area of a triangle, in whole numbers: exact by construction. */
export function exactSide(
  ax: number,
  ay: number,
  bx: number,
  by: number,
  cx: number,
  cy: number,
): -1 | 0 | 1 {
  const [px, py] = [exact(bx) - exact(ax), exact(by) - exact(ay)];
  const [qx, qy] = [exact(cx) - exact(ax), exact(cy) - exact(ay)];
  const twice = px * qy - py * qx;
  return twice > 0n ? 1 : twice < 0n ? -1 : 0;
}
