import type Database from 'better-sqlite3';
import { refuse } from '../../problem.js';

/** Third form of the tables: a register that was moved to a server says where to, and takes nothing more. */
export const MOVED = `
  CREATE TABLE moved (
    one INTEGER PRIMARY KEY CHECK (one = 1),
    -- Host and database, without user or password.
    register TEXT NOT NULL CHECK (length(register) > 0),
    at TEXT NOT NULL
  ) STRICT;

  CREATE TRIGGER moved_once BEFORE INSERT ON moved WHEN EXISTS (SELECT 1 FROM moved)
  BEGIN SELECT RAISE(ABORT, 'this register was moved before'); END;
  CREATE TRIGGER moved_not_changed BEFORE UPDATE ON moved
  BEGIN SELECT RAISE(ABORT, 'a register that was moved does not come back'); END;
  CREATE TRIGGER moved_not_deleted BEFORE DELETE ON moved
  BEGIN SELECT RAISE(ABORT, 'a register that was moved does not come back'); END;

  CREATE TRIGGER event_before_move BEFORE INSERT ON event WHEN EXISTS (SELECT 1 FROM moved)
  BEGIN SELECT RAISE(ABORT, 'this register was moved to a server'); END;
  CREATE TRIGGER checkpoint_before_move BEFORE INSERT ON checkpoint WHEN EXISTS (SELECT 1 FROM moved)
  BEGIN SELECT RAISE(ABORT, 'this register was moved to a server'); END;
  `;

/**
 * Refuses to go on with a register that was moved. Reading is refused too: what the file still says of a number is not
 * how it stands any more.
 */
export function prepareMustBeHere(db: Database.Database, file: string): () => void {
  const moved = db.prepare<[], string>('SELECT register FROM moved').pluck();
  return () => {
    const to = moved.get();
    if (to === undefined) return;
    throw refuse(
      3,
      file,
      `The register was moved to ${to}; this file must not be used any more.`,
      'Name that server in workshop.yaml (`register: postgres://host/database`) or in BURIN_REGISTER.',
    );
  };
}

export function markMoved(db: Database.Database, to: string, now: Date): void {
  db.prepare('INSERT INTO moved (one, register, at) VALUES (1, ?, ?)').run(to, now.toISOString());
}
