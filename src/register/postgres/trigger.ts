/** The register's own schema; every name below is in it. */
export const SCHEMA = 'burin';

/** A refusal in a trigger, by a condition over NEW and the tables. */
export const refuses = (what: string, condition: string): string => `
    IF ${condition} THEN RAISE EXCEPTION USING MESSAGE = '${what}', ERRCODE = 'integrity_constraint_violation'; END IF;`;

interface Firing {
  readonly table?: string;
  /** Each row, once it is in: only then does the server know the computed columns. Or the statement, before it. */
  readonly at: 'AFTER INSERT' | 'BEFORE INSERT' | 'BEFORE UPDATE' | 'BEFORE DELETE' | 'BEFORE TRUNCATE';
  readonly when?: string;
}

/**
 * Settings of every function. Names are looked up in the register's schema, whatever the session says. A function
 * keeps its plans from when the tables were small; those must not be to read them from end to end.
 */
export const SETTINGS = `SET search_path = ${SCHEMA}, pg_catalog, pg_temp SET enable_seqscan = off`;

/**
 * A trigger and its function, under one name. It fires also in sessions that copy from another server, where ordinary
 * triggers rest (ENABLE ALWAYS).
 */
export function trigger(name: string, { table = 'event', at, when }: Firing, body: string): string {
  const each = at === 'AFTER INSERT' ? 'ROW' : 'STATEMENT';
  return `
  CREATE FUNCTION ${SCHEMA}.${name}() RETURNS trigger LANGUAGE plpgsql
    ${SETTINGS} AS $$
  BEGIN${body}
    RETURN NULL;
  END $$;
  CREATE TRIGGER ${name} ${at} ON ${SCHEMA}.${table} FOR EACH ${each}${when ? ` WHEN (${when})` : ''}
    EXECUTE FUNCTION ${SCHEMA}.${name}();
  ALTER TABLE ${SCHEMA}.${table} ENABLE ALWAYS TRIGGER ${name};`;
}

/** Refuses every change of a table but adding to it. */
export const onlyAdded = (table: string, what: string): string =>
  (['UPDATE', 'DELETE', 'TRUNCATE'] as const)
    .map((verb) => {
      const past = { UPDATE: 'changed', DELETE: 'deleted', TRUNCATE: 'emptied' }[verb];
      return trigger(
        `${table}_not_${past}`,
        { table, at: `BEFORE ${verb}` },
        refuses(`${what} is never ${verb === 'UPDATE' ? 'changed' : 'deleted'}`, 'true'),
      );
    })
    .join('\n');
