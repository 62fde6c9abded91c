/**
 * Several ways of doing a thing, taken in turn, so that a disturbance of the machine meets all alike. The order is
 * turned round each time; one round goes before that is not counted, for code and caches to warm.
 */
export async function inRounds(ways, rounds, before = async () => {}) {
  const names = Object.keys(ways);
  const times = Object.fromEntries(names.map((name) => [name, []]));
  for (let round = -1; round < rounds; round++) {
    for (const name of round % 2 === 0 ? names : names.toReversed()) {
      await before(name);
      const ms = await timed(ways[name]);
      if (round >= 0) times[name].push(ms);
    }
  }
  return times;
}

export async function timed(work) {
  const start = performance.now();
  await work();
  return performance.now() - start;
}

export const median = (values) => {
  const sorted = values.toSorted((a, b) => a - b);
  const half = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[half] : (sorted[half - 1] + sorted[half]) / 2;
};

/** Median, least and most, in words. */
export const spread = (values, decimals = 0) => ({
  median: median(values).toFixed(decimals),
  least: Math.min(...values).toFixed(decimals),
  most: Math.max(...values).toFixed(decimals),
});
