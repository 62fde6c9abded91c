import type { PlacedEvent } from './facts.js';

/** What the register knows of the programs that a part was cut with. */
export interface CutTrace {
  readonly station: string;
  /** Of the documents that decided the cut. */
  readonly digest: string;
}

/** The programs made last for a part before it was engraved; undefined where it was engraved without any. */
export function cutTraceOf(events: readonly PlacedEvent[], part: string): CutTrace | undefined {
  const isOfPart = (one: { readonly part?: string }) => one.part === undefined || one.part === part;
  let trace: CutTrace | undefined;
  let last: CutTrace | undefined;
  for (const { event } of events) {
    if (event.type === 'programmed' && isOfPart(event))
      last = { station: event.station, digest: event.digest };
    if (event.type === 'engraved' && isOfPart(event)) trace = last;
    // A second piece is cut by programs of its own.
    if (event.type === 'recut' && isOfPart(event)) last = undefined;
  }
  return trace;
}
