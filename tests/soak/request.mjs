// What the i-th request of a worker asks for: the same whenever it is asked, also by another process.

/** Numbers in one request: 1 to 5, so that half of one could be seen. */
export const countOf = (i) => 1 + (i % 5);

/** All workers race for the numbers of the same edition, and go on to the next before it is used up. */
export const editionOf = (i) => `nine-lights-${Math.floor(i / 50)}`;
