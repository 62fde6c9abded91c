import type Database from 'better-sqlite3';
import { fromLeaf, type Leaf, type RegisterEvent } from '../event.js';

export interface EventRow extends Leaf {
  readonly seq: number;
}

export interface Read {
  ofEdition(edition: string): RegisterEvent[];
  ofLabel(edition: string, label: string): RegisterEvent[];
}

export function prepareRead(db: Database.Database): Read {
  // In two halves, each of which has its index; together they are every event of the edition.
  const select = (which: string) => `
    SELECT seq, body, leaf FROM event WHERE type = 'issued' AND ${which}
    UNION ALL
    SELECT seq, body, leaf FROM event WHERE type <> 'issued' AND ${which}
    ORDER BY seq`;
  const ofEdition = db.prepare<{ edition: string }, EventRow>(select('edition = $edition'));
  const ofLabel = db.prepare<{ edition: string; label: string }, EventRow>(
    select('edition = $edition AND label = $label'),
  );
  const events = (rows: EventRow[]) => rows.map((row) => fromLeaf(row.seq, row));
  return {
    ofEdition: (edition) => events(ofEdition.all({ edition })),
    ofLabel: (edition, label) => events(ofLabel.all({ edition, label })),
  };
}
