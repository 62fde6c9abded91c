/** So many numbers are drawn in one picture; a person looks at fewer, and a file of more opens nowhere. */
const MOST_DRAWN = 5000;
/** Of more, the first are drawn and so many of the last, which have the most digits. */
const LAST_DRAWN = 10;

/** Those of many numbers that a picture shows, in their order. */
export const drawnNumbers = <T>(all: readonly T[]): readonly T[] =>
  all.length <= MOST_DRAWN ? all : [...all.slice(0, MOST_DRAWN - LAST_DRAWN), ...all.slice(-LAST_DRAWN)];
