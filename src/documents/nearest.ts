/** Long words are compared by their beginning: the table below grows with the square of their length. */
const COMPARED = 64;

/**
 * Fewest single-letter changes from one word to another, a swap of two neighbours counting as one:
 * the restricted Damerau-Levenshtein distance.
 */
export function editDistance(from: string, to: string): number {
  const a = from.slice(0, COMPARED);
  const b = to.slice(0, COMPARED);
  let before: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      const same = a[i - 1] === b[j - 1];
      let least = Math.min(row[j - 1]! + 1, last[j]! + 1, last[j - 1]! + (same ? 0 : 1));
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) {
        least = Math.min(least, before[j - 2]! + 1);
      }
      row.push(least);
    }
    before = last;
    last = row;
  }
  return last[b.length]!;
}

/** The choice a slip of the hand most likely meant, or none when nothing is close. */
export function nearest(word: string, choices: Iterable<string>): string | undefined {
  const lower = word.toLowerCase();
  let best: string | undefined;
  let least = Math.max(1, Math.floor(Math.min(word.length, COMPARED) / 3)) + 1;
  for (const choice of choices) {
    const distance = editDistance(lower, choice.toLowerCase());
    if (distance < least) {
      least = distance;
      best = choice;
    }
  }
  return best;
}
