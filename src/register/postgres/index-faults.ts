import type pg from 'pg';
import type { Problem } from '../../problem.js';
import { problem } from '../messages.js';
import { SCHEMA } from './rules.js';
import { INDEXES, type SqlIndex, TABLES } from './tables.js';

/** Only one way to the rows is left to the planner in each case. */
const THROUGH_TABLE =
  'SET LOCAL enable_indexscan = off; SET LOCAL enable_indexonlyscan = off; SET LOCAL enable_bitmapscan = off; SET LOCAL enable_seqscan = on; SET LOCAL enable_sort = on';
const THROUGH_INDEX =
  'SET LOCAL enable_indexscan = on; SET LOCAL enable_indexonlyscan = on; SET LOCAL enable_seqscan = off; SET LOCAL enable_sort = off';

/**
 * Reads each index from end to end and compares it with its table, then computes the columns of each event anew from its
 * text. All of it as of one moment, while others may write.
 */
export async function indexFaults(client: pg.ClientBase, name: string): Promise<Problem[]> {
  const faults: Problem[] = [];
  await client.query('BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY');
  try {
    for (const index of INDEXES) {
      await client.query(THROUGH_TABLE);
      const inTable = await digest(client, rowsOf(index));
      await client.query(THROUGH_INDEX);
      if (!(await isReadBy(client, index))) {
        faults.push(problem('register.store-index-not-read', name, { object: `index ${index.name}` }));
        continue;
      }
      if ((await digest(client, inOrder(index))) !== inTable) {
        faults.push(problem('register.store-index-differs', name, { object: `index ${index.name}` }));
      }
    }
    await client.query(THROUGH_TABLE);
    const { rows } = await client.query<{ seq: number }>(COMPUTED_ANEW);
    for (const { seq } of rows) faults.push(problem('register.store-column-differs', name, { seq }));
  } finally {
    await client.query('ROLLBACK');
  }
  return faults;
}

const rowsOf = ({ table, columns, where }: SqlIndex): string =>
  `SELECT ${columns.join(', ')} FROM ${SCHEMA}.${table}${where ? ` WHERE ${where}` : ''}`;

/** In the order of the index, so that the planner goes by it. */
const inOrder = (index: SqlIndex): string => `${rowsOf(index)} ORDER BY ${index.columns.join(', ')}`;

/** How many rows there are, with a sum over what each holds: the order of rows is of no matter. */
async function digest(client: pg.ClientBase, rowsSql: string): Promise<string> {
  const { rows } = await client.query<{ digest: string }>(
    `SELECT count(*) || ' ' || coalesce(sum(hashtextextended(one::text, 0)), 0) AS digest FROM (${rowsSql}) AS one`,
  );
  return rows[0]!.digest;
}

/** Whether the planner does go by this index. */
async function isReadBy(client: pg.ClientBase, index: SqlIndex): Promise<boolean> {
  const { rows } = await client.query<{ 'QUERY PLAN': string }>(`EXPLAIN ${inOrder(index)}`);
  return rows.some((row) => row['QUERY PLAN'].includes(` using ${index.name} `));
}

/**
 * Events with a computed column that is not what the text says; the first few are enough. The text is read as JSON once
 * for all columns, not once for each; a list or an object is compared as it is written.
 */
const COMPUTED_ANEW = `SELECT seq FROM (SELECT *, body::jsonb AS members FROM ${SCHEMA}.event OFFSET 0) AS event
  WHERE ${TABLES[0]!.columns
    .flatMap(({ column, type, expression }) => {
      if (expression === undefined) return [];
      if (type !== 'json')
        return [`${column} IS DISTINCT FROM (${expression.replace('body::json', 'members')})`];
      const differs = `${column}::text IS DISTINCT FROM (${expression})::text`;
      return [`(${column} IS NOT NULL OR members ? '${column}') AND ${differs}`];
    })
    .join(' OR ')} ORDER BY seq LIMIT 5`;
