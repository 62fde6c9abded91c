import { signWithdrawals, type Withdrawal, withdrawalsOf } from '../register/certificate/withdrawals.js';
import { readKey } from '../register/log/keys.js';
import { isWithdrawalListOf } from './checkpoint.js';
import type { OpenDocuments } from './open-documents.js';
import { openForEntry } from './open-for-entry.js';
import { signLog } from './sign-log.js';
import { writeWhole } from './whole-file.js';

export interface WithdrawalsDone {
  readonly origin: string;
  readonly size: number;
  readonly withdrawals: readonly Withdrawal[];
  /** The signed list. */
  readonly note: string;
}

/**
 * A signed list of the certificates that are withdrawn, as of now; written to a file when one is named. Throws a Refusal:
 * exit 2 without a key, 3 where the log cannot be signed.
 */
export async function listWithdrawals(workshop: OpenDocuments, out?: string): Promise<WithdrawalsDone> {
  const register = await openForEntry(workshop);
  try {
    const checkpoint = await signLog(workshop, register);
    const { origin, size } = checkpoint;
    const withdrawals = await withdrawalsOf(register);
    const signer = (await readKey(workshop.environment.keysFolder, origin))!;
    const note = signWithdrawals(checkpoint, withdrawals, signer);
    if (out !== undefined)
      await writeWhole(out, note.slice(0, -1).split('\n'), { replaces: isWithdrawalListOf(origin) });
    return { origin, size, withdrawals, note };
  } finally {
    await register.close();
  }
}
