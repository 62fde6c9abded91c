import type { Register } from '../register.js';
import { consistencyProblem, Proofs, type Tree } from './merkle-proof.js';
import { refuse } from './messages.js';

/**
 * Inclusion proofs (RFC 9162, 2.1.3), nearest hash first, of events by their place in the sequence, in the log of the
 * first `size` events: one pass over the register, however many are asked for. With the root that was signed for that
 * size, throws a Refusal (exit 3) when the register no longer leads to it.
 */
export async function proveEvents(
  register: Pick<Register, 'events'>,
  seqs: readonly number[],
  size: number,
  root?: Uint8Array,
): Promise<Map<number, Uint8Array[]>> {
  const late = seqs.find((seq) => seq >= size);
  if (late !== undefined) throw refuse('log.event-after-checkpoint', `register event ${late}`, { size });
  const proofs = new Proofs(size, { inclusion: seqs });
  let next = 0;
  if (!proofs.complete) {
    for await (const { seq, leaf } of register.events()) {
      if (seq !== next) throw refuse('log.event-missing', `register event ${next}`, {});
      proofs.add(leaf);
      next++;
      if (proofs.complete) break;
    }
  }
  if (!proofs.complete) throw refuse('log.shorter-than-signed', 'register', { signed: size, size: next });
  if (root && !proofs.root().equals(root)) throw refuse('log.other-events', 'register', { size });
  return new Map(seqs.map((seq) => [seq, proofs.inclusion(seq)]));
}

/**
 * The proof (RFC 9162, 2.1.4) that the log of a register, signed for `second`, continues what was signed for `first`: one
 * pass over it. Throws a Refusal (exit 3) where it does not; `where` is where the first was signed.
 */
export async function proveExtension(
  register: Pick<Register, 'events'>,
  first: Tree,
  second: Tree,
  where: string,
): Promise<Buffer[]> {
  if (first.size > second.size)
    throw refuse('log.shorter-than-signed', where, { signed: first.size, size: second.size });
  if (first.size === 0) return [];
  const proofs = new Proofs(second.size, { consistency: [first.size] });
  let next = 0;
  for await (const { seq, leaf } of register.events()) {
    if (proofs.complete) break;
    if (seq !== next++) throw refuse('log.event-missing', `register event ${next - 1}`, {});
    proofs.add(leaf);
  }
  if (!proofs.complete)
    throw refuse('log.shorter-than-signed', 'register', { signed: second.size, size: next });
  const proof = proofs.consistency(first.size);
  if (consistencyProblem(first, second, proof)) throw refuse('log.other-events', where, { size: first.size });
  return proof;
}
