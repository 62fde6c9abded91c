import type Database from 'better-sqlite3';
import { type RegisterEvent, toLeaf } from '../event.js';
import { saltText, timeAfter } from '../requests.js';

/** The end of the sequence: where the next event goes and what time it bears. */
export interface End {
  readonly seq: number;
  readonly at: string;
}

/** Adds to the sequence. Call it only where nobody else can write. */
export interface Append {
  end(now: Date): End;
  /** Adds an event at a place, with a salt of its own when there is chance to make it from. */
  put(seq: number, event: RegisterEvent): void;
}

export function prepareAppend(db: Database.Database, salt: (() => Uint8Array) | undefined): Append {
  const last = db.prepare<[], End>('SELECT seq, at FROM event ORDER BY seq DESC LIMIT 1');
  const insert = db.prepare('INSERT INTO event (seq, body, leaf) VALUES (?, ?, ?)');
  return {
    end: (now) => {
      const before = last.get();
      return { seq: (before?.seq ?? -1) + 1, at: timeAfter(before?.at, now) };
    },
    put: (seq, event) => {
      const { body, leaf } = toLeaf(salt ? { ...event, salt: saltText(salt()) } : event);
      insert.run(seq, body, leaf);
    },
  };
}
