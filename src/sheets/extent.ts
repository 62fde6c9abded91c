/** The least and the greatest of some values, however many; both 0 when there are none. */
export function extentOf(values: Iterable<number>): [least: number, most: number] {
  let least = Number.POSITIVE_INFINITY;
  let most = Number.NEGATIVE_INFINITY;
  for (const value of values) {
    if (value < least) least = value;
    if (value > most) most = value;
  }
  return least > most ? [0, 0] : [least, most];
}
