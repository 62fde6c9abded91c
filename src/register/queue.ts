/** Lets one piece of work at a time have something, in the order they came. */
export class Queue {
  #last: Promise<unknown> = Promise.resolve();

  /** Runs the work once all that came before it has ended, well or not. */
  run<T>(work: () => Promise<T>): Promise<T> {
    const turn = this.#last.then(work, work);
    // Also when this one fails, the next has its turn.
    this.#last = turn.catch(() => undefined);
    return turn;
  }
}
