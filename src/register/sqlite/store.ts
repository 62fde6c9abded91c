import type Database from 'better-sqlite3';
import type { Numbered } from '../../edition/labels.js';
import { refuse } from '../../problem.js';
import {
  type IssueOrder,
  type IssueRequest,
  PATIENCE_MS,
  type Register,
  readRequest,
  type Surroundings,
} from '../register.js';
import { type Standing, type State, standings } from '../state.js';
import { checkSameFile, isThere, type OpenFile, openFile, told } from './file.js';
import { prepareIssue } from './issue.js';
import { patiently } from './patience.js';
import { prepareRead, type Read } from './read.js';

interface Prepared {
  readonly open: OpenFile;
  readonly issue: Database.Transaction<(order: IssueOrder) => Numbered[]>;
  readonly read: Read;
}

/** A register in one SQLite file, opened at the first use and made at the first issue. */
export class SqliteRegister implements Register {
  readonly #file: string;
  readonly #now: () => Date;
  readonly #patienceMs: number;
  #prepared: Prepared | undefined;
  #closed = false;

  constructor(file: string, { now, patienceMs = PATIENCE_MS }: Surroundings) {
    this.#file = file;
    this.#now = now;
    this.#patienceMs = patienceMs;
  }

  async issue(request: IssueRequest): Promise<Numbered[]> {
    const order = readRequest(request);
    return this.#patiently(() => {
      if (!this.#prepared) isThere(this.#file);
      return this.#prepare().issue.immediate(order);
    });
  }

  async issued(edition: string): Promise<Standing[]> {
    return this.#reading((read) => standings(read.ofEdition(edition)), []);
  }

  async stateOf(edition: string, label: string): Promise<State | undefined> {
    return this.#reading((read) => standings(read.ofLabel(edition, label))[0]?.state, undefined);
  }

  async close(): Promise<void> {
    this.#closed = true;
    this.#prepared?.open.db.close();
    this.#prepared = undefined;
  }

  #reading<T>(work: (read: Read) => T, none: T): Promise<T> {
    return this.#patiently(() => {
      if (!this.#prepared && !isThere(this.#file)) return none;
      const { open, read } = this.#prepare();
      checkSameFile(open, this.#file);
      return work(read);
    });
  }

  #prepare(): Prepared {
    if (this.#prepared) return this.#prepared;
    const open = openFile(this.#file, this.#now);
    const issue = prepareIssue(open.db);
    // The clock is read, and the file looked at, once nobody else can write: times then run with the sequence.
    const alone = open.db.transaction((order: IssueOrder) => {
      checkSameFile(open, this.#file);
      return issue(order, this.#now().toISOString());
    });
    this.#prepared = { open, issue: alone, read: prepareRead(open.db) };
    return this.#prepared;
  }

  #patiently<T>(work: () => T): Promise<T> {
    const inWords = () => {
      if (this.#closed) throw refuse(2, this.#file, 'The register was closed.', 'Open it again.');
      try {
        return work();
      } catch (error) {
        throw told(error, this.#file);
      }
    };
    return patiently(inWords, this.#file, this.#patienceMs);
  }
}
