import { refuse } from '../problem.js';
import { Proofs } from '../register/log/proof.js';
import type { Register } from '../register/register.js';

const CURE = 'Issue nothing; compare the register with your last good copy.';

/**
 * Inclusion proofs (RFC 9162, 2.1.3), nearest hash first, of events by their place in the sequence, in the log of the
 * first `size` events: one pass over the register, however many are asked for. Given the root that was signed for
 * that size, throws a Refusal (exit 3) when the register no longer leads to it.
 */
export async function proveEvents(
  register: Pick<Register, 'events'>,
  seqs: readonly number[],
  size: number,
  root?: Uint8Array,
): Promise<Map<number, Uint8Array[]>> {
  const late = seqs.find((seq) => seq >= size);
  if (late !== undefined) {
    const what = `It came after the checkpoint of ${size} events.`;
    throw refuse(3, `register event ${late}`, what, 'Make a new checkpoint with `burin checkpoint`.');
  }
  const proofs = new Proofs(size, { inclusion: seqs });
  let next = 0;
  if (!proofs.complete) {
    for await (const { seq, leaf } of register.events()) {
      if (seq !== next) throw refuse(3, `register event ${next}`, 'It is not there.', CURE);
      proofs.add(leaf);
      next++;
      if (proofs.complete) break;
    }
  }
  if (!proofs.complete) {
    const what = `There are ${next} events, and ${size} were signed for.`;
    throw refuse(3, 'register', what, CURE);
  }
  if (root && !proofs.root().equals(root)) {
    const what = `The first ${size} events are not those that were signed for.`;
    throw refuse(3, 'register', what, CURE);
  }
  return new Map(seqs.map((seq) => [seq, proofs.inclusion(seq)]));
}
