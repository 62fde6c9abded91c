import type Database from 'better-sqlite3';
import { refuse } from '../../problem.js';
import type { RawEvent, StoredCheckpoint } from '../register.js';
import { validateEvents } from '../validate-events.js';
import { type OpenFile, openFile } from './file.js';

export type AddCheckpoint = (checkpoint: StoredCheckpoint) => void;

export function prepareAddCheckpoint(db: Database.Database): AddCheckpoint {
  const noteOf = db.prepare<[size: number], string>('SELECT note FROM checkpoint WHERE size = ?').pluck();
  const insert = db.prepare('INSERT INTO checkpoint (size, note, frontier) VALUES (?, ?, ?)');
  return ({ size, note, frontier }) => {
    const before = noteOf.get(size);
    if (before === note) return;
    if (before !== undefined) {
      throw refuse(
        3,
        `checkpoint of ${size} events`,
        'Another one of this size was kept before.',
        'Keep the first; sign again once there are more events.',
      );
    }
    insert.run(size, note, Buffer.concat([...frontier]));
  };
}

/** A connection with a transaction begun, which nobody else writes in; closing it takes back what is not committed. */
export function openAlone(file: string, now: () => Date): OpenFile {
  const open = openFile(file, now);
  try {
    open.db.exec('BEGIN IMMEDIATE');
    return open;
  } catch (error) {
    open.db.close();
    throw error;
  }
}

/**
 * Takes the whole of another register into an empty one, text and hash as they are, each event judged anew. All
 * in one transaction, on a connection of its own: between batches the program goes on with other work.
 */
export async function takeInto(
  { db }: OpenFile,
  events: AsyncIterable<RawEvent>,
  checkpoints: readonly StoredCheckpoint[],
): Promise<void> {
  const insert = db.prepare('INSERT INTO event (seq, body, leaf) VALUES (?, ?, ?)');
  const keep = prepareAddCheckpoint(db);
  if (db.prepare('SELECT 1 FROM event LIMIT 1').get() !== undefined) {
    throw refuse(
      3,
      'register',
      'It has events of its own; nothing was taken over.',
      'Take over into a workshop without a register.',
    );
  }
  for await (const { seq, body, leaf } of validateEvents(events)) insert.run(seq, body, leaf);
  for (const checkpoint of checkpoints) keep(checkpoint);
  db.exec('COMMIT');
}
