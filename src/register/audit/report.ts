import type { Edition } from '../../documents/schema/edition.js';
import type { Problem } from '../../problem.js';
import type { Witness } from '../log/cosignature.js';
import type { KeyHistory } from '../log/key-history.js';
import type { NamedTerms } from '../terms/schema.js';
import type { ComparedCheckpoint, OutsideCheckpoint } from './checkpoint-comparison.js';
import type { Gap } from './document-comparison.js';
import type { Finding } from './finding.js';

export interface AuditOrder {
  /** Only the rules and gaps of this edition; the log is always audited as a whole. */
  readonly edition?: string;
  /** The documents, by id; absent where none can be read. */
  readonly editions?: ReadonlyMap<string, Edition>;
  /** Why no document can be read. */
  readonly documentFaults?: readonly Problem[];
  /** Whether there are no documents at all. */
  readonly documentsAbsent?: boolean;
  /** What the documents promise of each edition, by id. */
  readonly terms?: ReadonlyMap<string, NamedTerms>;
  /** Why a register that is empty should not be. */
  readonly missing?: Problem | undefined;
  /** Hashes of the statements of edition whose files are there, SHA-256 in hex. */
  readonly statements?: ReadonlySet<string>;
  /** Checkpoints from elsewhere. They show what those kept beside the events cannot. */
  readonly outside?: readonly OutsideCheckpoint[];
  /** Who must have cosigned a checkpoint from elsewhere for it to cover events. */
  readonly witnesses?: readonly Witness[];
  /** The maker's keys; without them no signature is checked. */
  readonly keys?: KeyHistory;
  /** Leaves out the store itself, to measure or test what is found in the events alone. */
  readonly eventsOnly?: boolean;
  /** An entry ahead of it holds all later ones. */
  readonly now?: Date;
  readonly progress?: (done: number, of: number) => void;
  readonly signal?: AbortSignal;
}

export interface AuditReport {
  /** Whether no fault was found; remarks do not count. */
  readonly ok: boolean;
  /** Whether the events are sound enough to say which state each number is in. */
  readonly replayable: boolean;
  readonly events: number;
  readonly numbers: number;
  /** Root of the log, as the register is now. */
  readonly root: Buffer;
  readonly checkpoints: readonly ComparedCheckpoint[];
  /** How many of the last events no checkpoint from elsewhere covers. */
  readonly uncovered: number;
  readonly gaps: readonly Gap[];
  readonly findings: readonly Finding[];
}
