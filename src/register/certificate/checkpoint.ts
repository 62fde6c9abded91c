import type { Problem } from '../../problem.js';
import { type Checkpoint, readCheckpoint, readNote, signatureProblem, type Verifier } from '../log/note.js';
import { problem } from './messages.js';

export type VerifiedCheckpoint =
  | { readonly ok: true; readonly checkpoint: Checkpoint }
  | { readonly ok: false; readonly problem: Problem };

const WHERE = 'certificate';

/** A certificate's checkpoint, signed by this key for the register of its name. Other signatures are ignored. */
export function verifyCheckpoint(signed: string, verifier: Verifier): VerifiedCheckpoint {
  const failed = (found: Problem): VerifiedCheckpoint => ({ ok: false, problem: found });
  const unreadable = (reason: Problem): VerifiedCheckpoint =>
    failed(problem('certificate.checkpoint-unreadable', WHERE, { reason }));
  const read = readNote(signed);
  if (!read.ok) return unreadable(read.problem);
  const opened = readCheckpoint(read.note);
  if (!opened.ok) return unreadable(opened.problem);
  const { name } = verifier;
  const wrong = signatureProblem(read.note, verifier);
  if (wrong)
    return failed(
      wrong.code === 'log.other-signer'
        ? problem('certificate.other-signer', WHERE, { name })
        : problem('certificate.checkpoint-signature', WHERE, {}),
    );
  const { origin } = opened.checkpoint;
  if (origin !== name) return failed(problem('certificate.other-log', WHERE, { origin, name }));
  return { ok: true, checkpoint: opened.checkpoint };
}
