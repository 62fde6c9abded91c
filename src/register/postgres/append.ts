import type pg from 'pg';
import { refuse } from '../../problem.js';
import { type RegisterEvent, toLeaf } from '../event.js';
import { saltText, timeAfter } from '../requests.js';

/** The end of the sequence: where the next event goes and what time it bears. */
export interface End {
  readonly seq: number;
  readonly at: string;
}

/** The last event this program has seen on disk: a register that does not have it has gone back. */
export interface LastSeen {
  seq: number;
  leaf: Buffer | undefined;
}

/** Adds to the sequence. Call it only where nobody else can write. */
export interface Append {
  /** A transaction began; what an earlier one put and took back is forgotten. */
  begin(): void;
  end(now: Date): Promise<End>;
  /** Adds events from a place on, each with a salt of its own when there is chance to make it from. */
  put(seq: number, events: readonly RegisterEvent[]): Promise<void>;
  /** What was put is on disk. */
  committed(): void;
}

/** Events in one statement. */
const BATCH = 500;

export function prepareAppend(
  client: pg.ClientBase,
  name: string,
  seen: LastSeen,
  salt: (() => Uint8Array) | undefined,
): Append {
  let put: LastSeen | undefined;
  return {
    begin: () => {
      put = undefined;
    },
    end: async (now) => {
      const { rows } = await client.query<End & { leaf: Buffer; seen: Buffer | null }>(
        `SELECT seq, at, leaf, (SELECT leaf FROM burin.event WHERE seq = $1) AS seen
           FROM burin.event ORDER BY seq DESC LIMIT 1`,
        [seen.seq],
      );
      const [before] = rows;
      if (seen.leaf && !before?.seen?.equals(seen.leaf)) {
        throw refuse(
          3,
          name,
          `Event ${seen.seq}, which this program has seen, is not there any more or is another.`,
          'Issue nothing; the server was replaced or went back to an older state.',
        );
      }
      if (before) Object.assign(seen, { seq: before.seq, leaf: before.leaf });
      return { seq: (before?.seq ?? -1) + 1, at: timeAfter(before?.at, now) };
    },
    put: async (seq, events) => {
      const leaves = events.map((event) => toLeaf(salt ? { ...event, salt: saltText(salt()) } : event));
      for (let at = 0; at < leaves.length; at += BATCH) {
        const some = leaves.slice(at, at + BATCH);
        await client.query(
          `INSERT INTO burin.event (seq, body, leaf)
             SELECT $1::integer + place - 1, body, leaf
             FROM unnest($2::text[], $3::bytea[]) WITH ORDINALITY AS given (body, leaf, place) ORDER BY place`,
          [seq + at, some.map(({ body }) => body), some.map(({ leaf }) => leaf)],
        );
      }
      const last = leaves.at(-1);
      if (last) put = { seq: seq + leaves.length - 1, leaf: last.leaf };
    },
    committed: () => {
      if (put) Object.assign(seen, put);
    },
  };
}
