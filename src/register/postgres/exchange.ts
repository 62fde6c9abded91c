import pg from 'pg';

/** What the server says to one statement. */
export interface Answer<R = unknown> {
  readonly rows: R[];
  /** What was done, as the server names it: the first word of its tag. */
  readonly command: string;
}

interface Field {
  readonly name: string;
  readonly read: (text: string) => unknown;
}

/** A statement that the server has ready. */
interface Prepared {
  readonly name: string;
  /** What its rows hold; the server is asked for that once. */
  fields: readonly Field[];
}

interface Asked {
  readonly text: string;
  readonly values: readonly unknown[];
  answered(answer: Answer): void;
  failed(error: unknown): void;
}

/**
 * Sends statements over a connection. What is asked in one turn of the program goes out in one piece, and the server
 * answers it in one: that costs both sides half of what as many single queries do. After an error in it the server
 * skips the rest, so all that was asked after it fails too.
 */
export class Exchanges {
  readonly #client: pg.ClientBase;
  /** By their texts: the server prepares each once, which costs it more than most of them do. */
  readonly #prepared = new Map<string, Prepared>();
  #asked: Asked[] = [];

  constructor(client: pg.ClientBase) {
    this.#client = client;
  }

  ask<R>(text: string, values: readonly unknown[] = []): Promise<Answer<R>> {
    return new Promise((resolve, reject) => {
      this.#asked.push({ text, values, answered: (answer) => resolve(answer as Answer<R>), failed: reject });
      if (this.#asked.length > 1) return;
      process.nextTick(() => {
        this.#client.query(new Exchange(this.#asked, this.#prepared));
        this.#asked = [];
      });
    });
  }
}

/** As bytes or as text, in which the server is given every value. */
const asSent = (value: unknown): Buffer | string | null => {
  if (value === null || value === undefined) return null;
  return Buffer.isBuffer(value) ? value : String(value);
};

/**
 * Statements that are sent with one end. It stands where the library has a query of its own, and takes what the library hands to one.
 * (PostgreSQL, "Extended query" and "Pipelining" in the chapter on its protocol.)
 */
class Exchange extends pg.Query {
  readonly #asked: readonly Asked[];
  readonly #prepared: Map<string, Prepared>;
  #at = 0;
  #rows: unknown[] = [];

  constructor(asked: readonly Asked[], prepared: Map<string, Prepared>) {
    super('');
    this.#asked = asked;
    this.#prepared = prepared;
  }

  override submit = (connection: pg.Connection): void => {
    const { stream } = connection;
    const parts: Buffer[] = [];
    // The library writes each message by itself, which costs more than the message does.
    const gathering: pg.Connection = Object.create(connection, {
      _send: { value: (message: Buffer) => parts.push(message) },
    });
    for (const { text, values } of this.#asked) {
      const known = this.#prepared.get(text);
      const name = known?.name ?? `burin ${this.#prepared.size + 1} ${/^\w+/.exec(text)?.[0]}`;
      if (!known) {
        this.#prepared.set(text, { name, fields: [] });
        gathering.parse({ name, text, types: [] }, true);
      }
      gathering.bind({ statement: name, values: values.map(asSent) }, true);
      if (!known) gathering.describe({ type: 'P', name: '' }, true);
      gathering.execute({ portal: '' }, true);
    }
    gathering.sync();
    if (stream.writable) stream.write(Buffer.concat(parts));
  };

  handleRowDescription({ fields }: { readonly fields: readonly pg.FieldDef[] }): void {
    this.#current().fields = fields.map(({ name, dataTypeID }) => ({
      name,
      read: pg.types.getTypeParser(dataTypeID, 'text'),
    }));
  }

  handleDataRow({ fields: values }: { readonly fields: readonly (string | null)[] }): void {
    const row: Record<string, unknown> = {};
    for (const [i, { name, read }] of this.#current().fields.entries()) {
      const value = values[i]!;
      row[name] = value === null ? null : read(value);
    }
    this.#rows.push(row);
  }

  handleCommandComplete({ text }: { readonly text: string }): void {
    const rows = this.#rows;
    this.#rows = [];
    this.#asked[this.#at++]!.answered({ rows, command: /^\w+/.exec(text)?.[0] ?? '' });
  }

  handleReadyForQuery(): void {
    if (this.#at < this.#asked.length)
      this.handleError(new Error('the server left a statement without an answer'));
  }

  handleError(error: unknown): void {
    for (const { failed } of this.#asked.slice(this.#at)) failed(error);
    this.#at = this.#asked.length;
  }

  #current(): Prepared {
    return this.#prepared.get(this.#asked[this.#at]!.text)!;
  }
}
