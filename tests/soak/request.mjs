// What the i-th request of a worker asks for: the same whenever it is asked, also by another process.

/** Requests to one edition, before all go on to the next. */
export const PER_EDITION = 8;

/** Numbers in one request: 1 to 5, so that half of one could be seen. */
export const countOf = (i) => 1 + (i % 5);

/** All workers race for the numbers of the same edition. */
export const editionOf = (i) => `lights-${Math.floor(i / PER_EDITION)}`;

/** An edition that one worker alone amends. */
export const ownEditionOf = (name) => `own-${name}`;

/** The last request to an edition closes it, while slower workers still ask; two others import, and amend. */
export function kindOf(i) {
  const turn = i % PER_EDITION;
  if (turn === PER_EDITION - 1) return 'close';
  if (turn === 3) return 'import';
  return turn === 5 ? 'amend' : 'issue';
}

/** The proofs that a worker imports into an edition: five of its own. */
export const importedBy = (name) => {
  const first = 1 + 5 * (name.codePointAt(name.length - 1) - 'a'.codePointAt(0));
  return [0, 1, 2, 3, 4].map((more) => first + more);
};
/** What is imported of each of them. */
export const IMPORTED = ['issued', 'engraved'];

/** What becomes of the first number of a request; `retracted` takes back the step before it, `both` is of two numbers. */
const LIVES = [
  ['engraved', 'inspected', 'delivered', 'noted', 'returned', 'inspected', 'delivered', 'corrected'],
  ['engraved', 'scrapped', 'destroyed', 'recut', 'engraved', 'inspected'],
  ['withheld', 'released', 'engraved', 'lost', 'found', 'inspected'],
  ['programmed', 'engraved', 'certified', 'inspected', 'stolen', 'found', 'delivered'],
  ['void'],
  ['engraved', 'retracted', 'engraved', 'inspected', 'certified'],
  ['both', 'inspected'],
];
export const lifeOf = (i) => LIVES[i % LIVES.length];
