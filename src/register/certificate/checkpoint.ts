import { type Checkpoint, readCheckpoint, readNote, signatureFault, type Verifier } from '../log/note.js';

export type Checked =
  | { readonly ok: true; readonly checkpoint: Checkpoint }
  | {
      readonly ok: false;
      readonly reason: 'checkpoint' | 'signer' | 'checkpoint signature' | 'origin';
      readonly what: string;
    };

/** A certificate's checkpoint, signed by this key for the register of its own name; other signatures are no harm. */
export function checkedCheckpoint(signed: string, verifier: Verifier): Checked {
  const read = readNote(signed);
  if (!read.ok) return { ok: false, reason: 'checkpoint', what: read.what };
  const { note } = read;
  const opened = readCheckpoint(note);
  if (!opened.ok) return { ok: false, reason: 'checkpoint', what: opened.what };
  const named = note.signatures.some(
    ({ name, keyHash }) => name === verifier.name && keyHash.equals(verifier.keyHash),
  );
  const unsigned = signatureFault(note, verifier);
  if (unsigned) return { ok: false, reason: named ? 'checkpoint signature' : 'signer', what: unsigned };
  if (opened.checkpoint.origin !== verifier.name)
    return { ok: false, reason: 'origin', what: 'It is of another register than the key.' };
  return { ok: true, checkpoint: opened.checkpoint };
}
