import type { Problem } from '../../problem.js';
import { type HistoryKey, type KeyHistory, signingKey } from '../log/key-history.js';
import { type Checkpoint, readCheckpoint, readNote } from '../log/note.js';
import { problem } from './messages.js';

export type VerifiedCheckpoint =
  | {
      readonly ok: true;
      readonly checkpoint: Checkpoint;
      /** Which of the maker's keys signed it. */
      readonly key: HistoryKey;
    }
  | { readonly ok: false; readonly problem: Problem };

const WHERE = 'certificate';

/** A certificate's checkpoint, signed by one of these keys for the register of their name. Other signatures are ignored. */
export function verifyCheckpoint(signed: string, keys: KeyHistory): VerifiedCheckpoint {
  const failed = (found: Problem): VerifiedCheckpoint => ({ ok: false, problem: found });
  const unreadable = (reason: Problem): VerifiedCheckpoint =>
    failed(problem('certificate.checkpoint-unreadable', WHERE, { reason }));
  const read = readNote(signed);
  if (!read.ok) return unreadable(read.problem);
  const opened = readCheckpoint(read.note);
  if (!opened.ok) return unreadable(opened.problem);
  const { origin: name } = keys;
  const by = signingKey(read.note, opened.checkpoint.size, keys);
  if (!by.ok) return failed(signerProblem(by.problem, name));
  const { origin } = opened.checkpoint;
  if (origin !== name) return failed(problem('certificate.other-log', WHERE, { origin, name }));
  return { ok: true, checkpoint: opened.checkpoint, key: by.key };
}

function signerProblem(reason: Problem, name: string): Problem {
  if (reason.code === 'log.other-signer') return problem('certificate.other-signer', WHERE, { name });
  if (reason.code === 'log.signature-wrong') return problem('certificate.checkpoint-signature', WHERE, {});
  return problem('certificate.key-retired', WHERE, { reason });
}
