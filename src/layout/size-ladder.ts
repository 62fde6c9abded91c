/** Figures that a size is found to: a hundredth of a per cent at the top of a decade, a tenth at its foot. */
const DIGITS = 4;

/** From one size of the ladder to the next near `size`, mm: a unit in its fourth digit. */
export const ladderStep = (size: number): number => 10 ** (Math.floor(Math.log10(size)) - DIGITS + 1);

/**
 * The largest size of the ladder that is not above `limit`, mm, which is more than 0. The ladder has every size of four digits and no other,
 * so that which sizes are tried depends on nothing but the size asked for: 9,000 sizes a decade.
 */
export function ladderSize(limit: number): number {
  const step = ladderStep(limit);
  // A hair more, for a size of the ladder that its own arithmetic has put just below itself.
  return Number((Math.floor(limit / step + 1e-6) * step).toPrecision(DIGITS));
}

/** The next size of the ladder below `size`, mm. */
export const nextBelow = (size: number): number => ladderSize(size - 1e-5 * ladderStep(size));

/** The smallest size of the ladder that is not below `limit`, mm. */
export function ladderSizeAbove(limit: number): number {
  const below = ladderSize(limit);
  return below >= limit ? below : Number((below + ladderStep(below)).toPrecision(DIGITS));
}
