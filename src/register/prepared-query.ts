import type { Compilable, CompiledQuery, Kysely } from 'kysely';
import type { BoundQuery, Connection, Tables } from './database.js';

/** Stands in a query for a value that is given when it is run. */
class Parameter {
  readonly name: string;

  constructor(name: string) {
    this.name = name;
  }
}

/** A query compiled once for its store and run many times with other values. */
export interface PreparedQuery<P, R> {
  (on: Connection, values: P): Promise<R[]>;
  /** The query with its values, for a connection to run. */
  with(values: P): BoundQuery<R>;
}

/**
 * Prepares a query. `build` is called once, at the first run; `value('name')` stands where the value of that name goes.
 * Compiling costs more than the query itself on the way of an issue.
 */
export function prepareQuery<P extends object, R>(
  compiler: Kysely<Tables>,
  build: (db: Kysely<Tables>, value: <K extends keyof P & string>(name: K) => P[K]) => Compilable<R>,
): PreparedQuery<P, R> {
  let query: CompiledQuery<R> | undefined;
  let names: readonly unknown[] = [];
  const bind = (values: P): BoundQuery<R> => {
    if (!query) {
      // The builder sees a value of the right type; it only passes it on to the list of parameters.
      query = build(compiler, (name) => new Parameter(name) as never).compile();
      names = query.parameters;
    }
    const parameters = names.map((one) => (one instanceof Parameter ? values[one.name as keyof P] : one));
    return { query, parameters };
  };
  return Object.assign((on: Connection, values: P) => on.run(bind(values)), { with: bind });
}
