import type net from 'node:net';
import pg from 'pg';

/** What the library gives no code for, named by what the connection was doing when it failed. */
export type ConnectionFault =
  | 'none-free'
  | 'lost'
  | 'not-secured'
  | 'not-authenticated'
  | 'password-missing'
  | 'password-unsafe';

/** A fault of the connection, with the code of Node or of TLS where it has one. */
export class ConnectionError extends Error {
  readonly code: string;

  constructor(
    readonly fault: ConnectionFault,
    cause: unknown,
  ) {
    super(`connection ${fault}`, { cause });
    this.code = codeOf(cause);
  }
}

/** A code of the server (SQLSTATE), of Node or of TLS; empty where there is none. */
export const codeOf = (error: unknown): string =>
  error instanceof Error && 'code' in error && typeof error.code === 'string' ? error.code : '';

type Connected = (error: Error | null, client?: pg.Client) => void;

/** How far a connection has come. */
type Stage = 'reaching' | 'securing' | 'starting' | 'authenticating' | 'ready';

function endSilent(this: net.Socket): void {
  this.destroy(Object.assign(new Error('silence'), { code: 'ETIMEDOUT' }));
}

/**
 * A client that knows how far its connection has come and whether it is gone. The library tells that by sentences only,
 * in errors without a code; here it is known by the events of the connection, and no sentence is read.
 */
export class RegisterClient extends pg.Client {
  /** The library's own, and not in its types. */
  declare readonly connection: pg.Connection & { readonly stream: net.Socket };
  #stage: Stage = 'reaching';
  #lost = false;
  #passwordUnsafe = false;

  constructor(config?: pg.ClientConfig) {
    // The pool has a limit of its own for connecting. Statements are sent before those ahead of them are answered.
    super({ ...config, connectionTimeoutMillis: 0, pipeline: true });
    const { connection } = this;
    const reach = (event: string, stage: Stage) =>
      connection.once(event, () => {
        this.#stage = stage;
      });
    const lose = () => {
      this.#lost = true;
    };
    reach('connect', this.ssl ? 'securing' : 'starting');
    // The library tells of TLS when it begins.
    connection.once('sslconnect', () => {
      connection.stream.once('secureConnect', () => {
        this.#stage = 'starting';
      });
    });
    for (const way of ['CleartextPassword', 'MD5Password', 'SASL'])
      reach(`authentication${way}`, 'authenticating');
    connection.once('end', lose);
    // From then on it takes no more queries. Also keeps the error of an idle connection from ending the program: the next
    // request finds out for itself.
    this.on('error', lose);
  }

  override connect(): Promise<pg.Client>;
  override connect(callback: Connected): void;
  override connect(callback?: Connected): Promise<pg.Client> | undefined {
    const connected = super.connect().then(
      () => {
        this.#stage = 'ready';
        return this;
      },
      (error: unknown) => {
        throw this.withFault(error);
      },
    );
    if (!callback) return connected;
    connected.then(
      () => callback(null, this),
      (error: Error) => callback(error),
    );
  }

  /** The error with what it stands for, where it has no code that says so. */
  withFault(error: unknown): unknown {
    if (!(error instanceof Error) || error instanceof pg.DatabaseError) return error;
    const fault = this.#faultOf(codeOf(error));
    return fault ? new ConnectionError(fault, error) : error;
  }

  /**
   * The library's own, called where the server asks for the password itself or for its MD5: whoever gets either can use it
   * elsewhere. With SCRAM-SHA-256 nobody does, and the server shows that it knows the password too.
   */
  protected _handleAuthCleartextPassword(): void {
    this.#refuseToTell();
  }

  protected _handleAuthMD5Password(): void {
    this.#refuseToTell();
  }

  #refuseToTell(): void {
    this.#passwordUnsafe = true;
    this.connection.emit('error', new Error('the server asks for a password in a form that gives it away'));
    this.connection.stream.destroy();
  }

  #faultOf(code: string): ConnectionFault | undefined {
    if (this.#passwordUnsafe) return 'password-unsafe';
    if (this.#stage === 'securing') return 'not-secured';
    if (code === '' && this.#lost) return 'lost';
    if (code === '' && this.#stage === 'authenticating')
      return this.password ? 'not-authenticated' : 'password-missing';
    return undefined;
  }

  /** Ends the connection once nothing has come over it for so long; 0 waits for ever. */
  limitSilence(ms: number): void {
    const { stream } = this.connection;
    stream.setTimeout(ms);
    if (stream.listenerCount('timeout', endSilent) === 0) stream.on('timeout', endSilent);
  }
}
