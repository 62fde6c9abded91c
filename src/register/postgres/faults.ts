import type pg from 'pg';
import type { Problem } from '../../problem.js';
import { problem } from '../messages.js';
import { strayVersions } from '../table-version.js';
import { versionsOf } from './connect.js';
import { indexFaults } from './index-faults.js';
import { STEPS } from './migrations.js';
import { CHECKS, FUNCTION_SETTINGS, FUNCTIONS, SCHEMA, TRIGGERS } from './rules.js';
import { INDEXES, TABLES } from './tables.js';

/** An object of the database, with all of it that matters as one text; both sides are written in the same way. */
type Objects = ReadonlyMap<string, string>;

/**
 * What is wrong with the schema apart from its events: tables, columns, checks, indexes, functions and triggers that are
 * not those of a new register; triggers that do not fire always; indexes that do not hold what their table holds. It
 * asks the catalogues that every version from 14 has, and needs no more rights than reading. Page checksums of the server
 * are no part of it: a row that was damaged is found by its hash.
 */
export async function faultsOfSchema(client: pg.ClientBase, name: string, form: number): Promise<Problem[]> {
  const known = STEPS.length;
  if (form < known) return [problem('register.store-older-form', name, { form, known })];
  const faults: Problem[] = [];
  const { rows } = await client.query<{ role: string }>(
    `SELECT current_setting('session_replication_role') AS role`,
  );
  const { role } = rows[0]!;
  if (role !== 'origin') faults.push(problem('register.store-triggers-rest', name, { role }));
  const stray = strayVersions(await versionsOf(client), form);
  if (stray.length > 0)
    faults.push(problem('register.store-version-stray', name, { form, versions: stray.map(String) }));
  const found = await catalogue(client);
  const expected = newCatalogue();
  for (const [object, text] of found) {
    const asMade = expected.get(object);
    if (asMade === undefined) faults.push(problem('register.store-object-foreign', name, { object }));
    else if (text !== asMade) {
      const enabled = text.replace(/^[ODR] /, 'A ') === asMade;
      faults.push(
        problem(enabled ? 'register.store-trigger-off' : 'register.store-object-altered', name, { object }),
      );
    }
  }
  for (const object of expected.keys()) {
    if (!found.has(object)) faults.push(problem('register.store-object-missing', name, { object }));
  }
  // What is asked of rows needs tables and indexes as they should be.
  return faults.some(({ values }) => /^(table|column|index)/.test(String(values.object)))
    ? faults
    : [...faults, ...(await indexFaults(client, name))];
}

/** The catalogue of a new register. */
function newCatalogue(): Objects {
  const objects = new Map<string, string>();
  for (const { name, columns } of TABLES) {
    objects.set(`table ${name}`, 'r p plain');
    for (const { column, type, collation, required, expression } of columns) {
      const generated = expression === undefined ? '' : `s ${plainSql(expression)}`;
      objects.set(`column ${name}.${column}`, [type, collation ?? '', required, generated].join(' '));
    }
    objects.set(`constraint ${name}_pkey on ${name}`, plainSql(`PRIMARY KEY (${columns[0]!.column})`));
  }
  for (const { name, table, unique, columns, where } of INDEXES) {
    const made = `CREATE ${unique ? 'UNIQUE ' : ''}INDEX ${name} ON ${table} USING btree (${columns.join(', ')})`;
    objects.set(`index ${name}`, `sound ${plainSql(`${made}${where ? ` WHERE ${where}` : ''}`)}`);
  }
  for (const { table, name, check } of CHECKS) {
    objects.set(`constraint ${name} on ${table}`, plainSql(`CHECK (${check})`));
  }
  const settings = Object.entries(FUNCTION_SETTINGS).map(([setting, value]) => `${setting}=${value}`);
  for (const { name, language, body } of FUNCTIONS) {
    objects.set(`function ${name}`, [language, 'invoker', ...settings.sort(), body].join(' '));
  }
  for (const { name, table, at } of TRIGGERS) {
    objects.set(`trigger ${name} on ${table}`, `A ${name} ${TRIGGER_TYPE[at]} unconditional`);
  }
  return objects;
}

/** Bits of `tgtype` (PostgreSQL, `pg_trigger.h`): row 1, before 2, insert 4, delete 8, update 16, truncate 32. */
const TRIGGER_TYPE = {
  'AFTER INSERT': 1 + 4,
  'BEFORE INSERT': 2 + 4,
  'BEFORE DELETE': 2 + 8,
  'BEFORE UPDATE': 2 + 16,
  'BEFORE TRUNCATE': 2 + 32,
} as const;

const OURS = `(SELECT oid FROM pg_namespace WHERE nspname = '${SCHEMA}')`;

/** Each query gives `object` and `text`, as `newCatalogue` writes them. */
const CATALOGUE = [
  // Tables, and whatever else stands in the schema as one. Rules and policies can swallow an insert.
  `SELECT CASE relkind WHEN 'r' THEN 'table ' WHEN 'v' THEN 'view ' WHEN 'S' THEN 'sequence ' ELSE 'relation ' END
      || relname AS object,
    concat(relkind, chr(32), relpersistence) || ' ' || CASE WHEN relhasrules OR relrowsecurity OR relispartition
      OR EXISTS (SELECT 1 FROM pg_inherits WHERE inhparent = c.oid OR inhrelid = c.oid) THEN 'not plain' ELSE 'plain' END
      AS text
   FROM pg_class AS c WHERE relnamespace = ${OURS} AND relkind NOT IN ('i', 't', 'I')`,
  `SELECT 'column ' || relname || '.' || attname AS object,
    format_type(atttypid, atttypmod) || ' ' || CASE collname WHEN 'C' THEN collname ELSE '' END || ' '
      || attnotnull::text || ' ' || CASE attgenerated WHEN '' THEN coalesce(pg_get_expr(adbin, adrelid), '')
        ELSE attgenerated::text || ' ' || pg_get_expr(adbin, adrelid) END AS text
   FROM pg_attribute AS a JOIN pg_class AS c ON c.oid = attrelid
     LEFT JOIN pg_collation AS l ON l.oid = attcollation
     LEFT JOIN pg_attrdef AS d ON adrelid = attrelid AND adnum = attnum
   WHERE relnamespace = ${OURS} AND relkind = 'r' AND attnum > 0 AND NOT attisdropped`,
  `SELECT 'index ' || c.relname AS object,
    CASE WHEN indisvalid AND indisready AND indislive THEN 'sound ' ELSE 'unsound ' END
      || pg_get_indexdef(indexrelid) AS text
   FROM pg_index JOIN pg_class AS c ON c.oid = indexrelid WHERE c.relnamespace = ${OURS}`,
  // Since version 18 "not null" is a constraint too; it is seen at the column.
  `SELECT 'constraint ' || conname || ' on ' || coalesce(relname, '-') AS object, pg_get_constraintdef(o.oid) AS text
   FROM pg_constraint AS o LEFT JOIN pg_class AS c ON c.oid = conrelid
   WHERE connamespace = ${OURS} AND contype <> 'n' AND contype <> 't'`,
  `SELECT 'function ' || proname AS object,
    lanname || ' ' || CASE WHEN prosecdef THEN 'definer' ELSE 'invoker' END || ' '
      || coalesce((SELECT string_agg(one, ' ' ORDER BY one) FROM unnest(proconfig) AS one), '') || ' ' || prosrc AS text
   FROM pg_proc AS p JOIN pg_language AS l ON l.oid = prolang WHERE pronamespace = ${OURS}`,
  `SELECT 'trigger ' || tgname || ' on ' || c.relname AS object,
    tgenabled::text || ' ' || CASE pronamespace WHEN ${OURS} THEN '' ELSE 'elsewhere.' END || proname || ' ' || tgtype::text || ' '
      || CASE WHEN tgqual IS NULL AND tgnargs = 0 AND tgattr::text = '' AND NOT tgdeferrable THEN 'unconditional'
        ELSE 'conditional' END AS text
   FROM pg_trigger AS t JOIN pg_class AS c ON c.oid = tgrelid JOIN pg_proc AS p ON p.oid = tgfoid
   WHERE c.relnamespace = ${OURS} AND NOT tgisinternal`,
  `SELECT 'rule ' || rulename || ' on ' || relname AS object, '' AS text
   FROM pg_rewrite JOIN pg_class AS c ON c.oid = ev_class WHERE relnamespace = ${OURS} AND relkind = 'r'`,
  `SELECT 'policy ' || polname || ' on ' || relname AS object, '' AS text
   FROM pg_policy JOIN pg_class AS c ON c.oid = polrelid WHERE relnamespace = ${OURS}`,
];

async function catalogue(client: pg.ClientBase): Promise<Objects> {
  const objects = new Map<string, string>();
  for (const query of CATALOGUE) {
    const { rows } = await client.query<{ object: string; text: string }>(query);
    for (const { object, text } of rows) {
      // Texts that the server writes anew are compared without what it adds; the text of a function is as it was given.
      const asWritten = /^(function|trigger|table)/.test(object);
      objects.set(object, asWritten ? text : normalizeForComparison(object, text));
    }
  }
  return objects;
}

function normalizeForComparison(object: string, text: string): string {
  if (object.startsWith('index')) {
    const [, state, made] = /^(\w+) (.*)$/s.exec(text)!;
    return `${state} ${plainSql(made!)}`;
  }
  if (object.startsWith('column')) {
    const [, start, expression] = /^(.*? (?:true|false) (?:s )?)(.*)$/s.exec(text)!;
    return `${start}${plainSql(expression!)}`;
  }
  return plainSql(text);
}

/** SQL without casts, brackets and blanks: as the server writes it and as we do come to the same. */
const plainSql = (sql: string): string =>
  sql
    .replaceAll(/::(text|bytea|name|json|integer)\b/g, '')
    .replaceAll(`${SCHEMA}.`, '')
    .replaceAll(/[()\s"]/g, '');
