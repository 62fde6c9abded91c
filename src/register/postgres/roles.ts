import { SCHEMA } from './rules.js';

/** A role for each kind of user, with what its work takes and no more. None can log in: a user is made a member of one. */
export const ROLES = { bench: 'burin_bench', keeper: 'burin_keeper', reader: 'burin_reader' } as const;

const all = Object.values(ROLES);

/** Makes the roles where they are missing, and gives each its rights in this database, whatever it had before. */
export const MAKE_ROLES = `
  DO $$
  DECLARE name text;
  BEGIN
    FOREACH name IN ARRAY ARRAY[${all.map((name) => `'${name}'`).join(', ')}] LOOP
      IF NOT EXISTS (SELECT 1 FROM pg_roles WHERE rolname = name) THEN
        EXECUTE format('CREATE ROLE %I NOLOGIN', name);
      END IF;
    END LOOP;
  END $$;
  REVOKE ALL ON SCHEMA ${SCHEMA} FROM PUBLIC, ${all.join(', ')};
  REVOKE ALL ON ALL TABLES IN SCHEMA ${SCHEMA} FROM PUBLIC, ${all.join(', ')};
  GRANT USAGE ON SCHEMA ${SCHEMA} TO ${all.join(', ')};
  GRANT SELECT ON ALL TABLES IN SCHEMA ${SCHEMA} TO ${all.join(', ')};
  GRANT INSERT (seq, body, leaf) ON ${SCHEMA}.event TO ${ROLES.bench}, ${ROLES.keeper};
  GRANT INSERT (size, note, frontier) ON ${SCHEMA}.checkpoint TO ${ROLES.keeper};`;
