import type pg from 'pg';
import { refuse } from '../../problem.js';
import type { RawEvent, StoredCheckpoint } from '../register.js';
import { validateEvents } from '../validate-events.js';

export type AddCheckpoint = (checkpoint: StoredCheckpoint) => Promise<void>;

/** Events in one statement. */
const BATCH = 500;

export function prepareAddCheckpoint(client: pg.ClientBase): AddCheckpoint {
  return async ({ size, note, frontier }) => {
    const { rows } = await client.query<{ note: string }>(
      'SELECT note FROM burin.checkpoint WHERE size = $1',
      [size],
    );
    const before = rows[0]?.note;
    if (before === note) return;
    if (before !== undefined) {
      throw refuse(
        3,
        `checkpoint of ${size} events`,
        'Another one of this size was kept before.',
        'Keep the first; sign again once there are more events.',
      );
    }
    await client.query('INSERT INTO burin.checkpoint (size, note, frontier) VALUES ($1, $2, $3)', [
      size,
      note,
      Buffer.concat([...frontier]),
    ]);
  };
}

/**
 * Takes the whole of another register into an empty one, text and hash as they are, each event judged anew. Runs inside
 * one transaction.
 */
export async function takeInto(
  client: pg.ClientBase,
  events: AsyncIterable<RawEvent>,
  checkpoints: readonly StoredCheckpoint[],
): Promise<void> {
  const { rows } = await client.query('SELECT 1 FROM burin.event LIMIT 1');
  if (rows.length > 0) {
    throw refuse(
      3,
      'register',
      'It has events of its own; nothing was taken over.',
      'Take over into an empty database.',
    );
  }
  const insert = (some: readonly RawEvent[]) =>
    client.query(
      `INSERT INTO burin.event (seq, body, leaf)
         SELECT seq, body, leaf FROM unnest($1::integer[], $2::text[], $3::bytea[]) AS given (seq, body, leaf)
         ORDER BY seq`,
      [some.map(({ seq }) => seq), some.map(({ body }) => body), some.map(({ leaf }) => leaf)],
    );
  let waiting: RawEvent[] = [];
  for await (const event of validateEvents(events)) {
    waiting.push(event);
    if (waiting.length < BATCH) continue;
    await insert(waiting);
    waiting = [];
  }
  if (waiting.length > 0) await insert(waiting);
  const keep = prepareAddCheckpoint(client);
  for (const checkpoint of checkpoints) await keep(checkpoint);
}
