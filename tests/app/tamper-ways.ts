import { checkpointOf } from '../../src/app/checkpoint.js';
import { leafHash } from '../../src/register/event.js';
import { rootOf } from '../../src/register/log/merkle-accumulator.js';
import { STATED } from '../register/ask.js';
import { type Bench, eventsOf } from './either-store.js';
import { issue } from './resume-rules.js';
import type { TamperBench } from './tamper-rules.js';

/** What somebody does who may write the file, or is superuser of the server. Codes stand without their room. */
export interface Tampering {
  work(bench: TamperBench): Promise<void>;
  /** Why the next entry is refused on the machine that made the ones before; none where it goes on. */
  readonly gate: readonly string[];
  /** The faults of an audit of the register alone. */
  readonly audit: readonly string[];
  /** Those of an audit with the maker's key and a checkpoint that a witness cosigned. */
  readonly outside: readonly string[];
  /** Why the witness is not shown, or does not cosign, what follows; none where it does. */
  readonly witness: readonly string[];
}

interface Row {
  readonly seq: number;
  readonly body: string;
  readonly leaf: Buffer;
}

/** Writes the events anew, as changed, past the rules; they are there again afterwards. */
const rewrite = (change: (rows: Row[]) => Row[], checkpointsFrom = Number.POSITIVE_INFINITY) =>
  async function work(bench: Bench): Promise<void> {
    const rows = await eventsOf(bench);
    await bench.pastRules(async () => {
      await bench.sql('DELETE FROM event');
      for (const { seq, body, leaf } of change(rows))
        await bench.sql('INSERT INTO event (seq, body, leaf) VALUES ($1, $2, $3)', [seq, body, leaf]);
      if (checkpointsFrom !== Number.POSITIVE_INFINITY)
        await bench.sql(`DELETE FROM checkpoint WHERE size >= ${checkpointsFrom}`);
    });
  };

/** In the order given, with places and hashes as an honest writer would have made them. */
const remade = (bodies: readonly string[]): Row[] =>
  bodies.map((body, seq) => ({ seq, body, leaf: leafHash(body) }));

const bodiesOf = (rows: readonly Row[]): string[] => rows.map(({ body }) => body);

const changed = (body: string, members: object): string => {
  const all = Object.entries({ ...(JSON.parse(body) as object), ...members });
  return JSON.stringify(Object.fromEntries(all.sort(([a], [b]) => (a < b ? -1 : 1))));
};

/** Of the second issued number, whose place the checkpoint outside covers. */
const FORGED = { why: 'as it never was' };
const forge = (rows: Row[]): string[] =>
  rows.map(({ seq, body }) => (seq === 2 ? changed(body, FORGED) : body));

const append = (members: object) =>
  async function work(bench: Bench): Promise<void> {
    const last = (await eventsOf(bench)).at(-1)!;
    const body = changed(last.body, {
      type: 'noted',
      number: 1,
      label: '01/90',
      parts: undefined,
      ...members,
    });
    await bench.pastRules(async () => {
      await bench.sql('INSERT INTO event (seq, body, leaf) VALUES ($1, $2, $3)', [
        ...[last.seq + 1, body, leafHash(body)],
      ]);
    });
  };

/** The same in the words of each store. */
const sql = (sqlite: string, postgres: string) =>
  async function work(bench: TamperBench): Promise<void> {
    await bench.sql(bench.store === 'SQLite' ? sqlite : postgres);
  };

export const TAMPERINGS: Readonly<Record<string, Tampering>> = {
  'an entry is deleted': {
    work: rewrite((rows) => rows.filter(({ seq }) => seq !== 2)),
    gate: ['register-other'],
    audit: [
      'gap-in-sequence',
      'log-shorter',
      'number-missing',
      'root-differs',
      'root-differs-too',
      'rule-broken',
    ],
    outside: [
      'gap-in-sequence',
      'log-shorter',
      'number-missing',
      'root-differs',
      'root-differs-too',
      'rule-broken',
    ],
    witness: ['event-missing'],
  },
  'an entry is deleted, and the rest counted anew': {
    work: rewrite((rows) => remade(bodiesOf(rows).filter((_, seq) => seq !== 3))),
    gate: ['register-behind'],
    audit: ['log-shorter', 'number-missing', 'root-differs', 'root-differs-too'],
    outside: ['log-shorter', 'number-missing', 'root-differs', 'root-differs-too'],
    witness: ['shorter-than-signed'],
  },
  'the last entries are cut off, with their checkpoints': {
    work: rewrite((rows) => rows.slice(0, 4), 5),
    gate: ['register-behind'],
    audit: [],
    outside: ['log-shorter'],
    witness: ['shorter-than-signed'],
  },
  'the entries since the checkpoint outside are cut off': {
    work: rewrite((rows) => rows.slice(0, 5), 6),
    gate: ['register-behind'],
    audit: [],
    outside: [],
    witness: [],
  },
  'the text of an entry is rewritten': {
    work: rewrite((rows) =>
      rows.map((row) => (row.seq === 2 ? { ...row, body: changed(row.body, FORGED) } : row)),
    ),
    gate: ['register-other'],
    audit: ['text-and-hash-differ'],
    outside: ['text-and-hash-differ'],
    witness: [],
  },
  'the hash of an entry is rewritten': {
    work: rewrite((rows) => rows.map((row) => (row.seq === 2 ? { ...row, leaf: Buffer.alloc(32, 7) } : row))),
    gate: ['register-other'],
    audit: ['hashes-altered', 'root-differs', 'root-differs-too', 'text-and-hash-differ'],
    outside: ['hashes-altered', 'root-differs', 'root-differs-too', 'text-and-hash-differ'],
    witness: ['other-events'],
  },
  'the text and the hash of an entry are rewritten': {
    work: rewrite((rows) => remade(forge(rows))),
    gate: ['register-other'],
    audit: ['root-differs', 'root-differs-too'],
    outside: ['root-differs', 'root-differs-too'],
    witness: ['other-events'],
  },
  'the same, and the checkpoints are deleted': {
    work: rewrite((rows) => remade(forge(rows)), 0),
    gate: ['register-other'],
    audit: [],
    outside: ['root-differs'],
    witness: ['other-events'],
  },
  'an entry is put between others': {
    work: rewrite((rows) => {
      const bodies = bodiesOf(rows);
      const noted = changed(bodies[3]!, { type: 'noted', why: 'as it never was', parts: undefined });
      return remade([...bodies.slice(0, 4), noted, ...bodies.slice(4)]);
    }, 0),
    gate: ['register-other'],
    audit: [],
    outside: ['root-differs'],
    witness: ['other-events'],
  },
  'two entries change places': {
    work: rewrite((rows) => {
      const bodies = bodiesOf(rows);
      [bodies[3], bodies[4]] = [bodies[4]!, bodies[3]!];
      return remade(bodies);
    }, 0),
    gate: ['register-other'],
    audit: ['time-runs-back'],
    outside: ['root-differs', 'time-runs-back'],
    witness: ['other-events'],
  },
  'the register of another workshop is put in its place': {
    work: async (bench) => {
      const other = await bench.another();
      await rewrite(() => other, 0)(bench);
    },
    gate: ['register-other'],
    audit: [],
    outside: ['root-differs'],
    witness: ['other-events'],
  },
  'an old copy is put in its place, and the work goes on': {
    work: async (bench) => {
      await rewrite((rows) => rows.slice(0, 4), 5)(bench);
      await issue(bench.elsewhere, 4);
    },
    gate: ['register-other'],
    audit: [],
    outside: ['two-histories'],
    witness: ['other-events'],
  },
  'a checkpoint is deleted': {
    work: (bench) =>
      bench.pastRules(async () => void (await bench.sql('DELETE FROM checkpoint WHERE size = 5'))),
    gate: [],
    audit: [],
    outside: [],
    witness: [],
  },
  'the root of a checkpoint is altered': {
    work: (bench) =>
      bench.pastRules(
        async () =>
          void (await bench.sql(
            `UPDATE checkpoint SET note = replace(note, substr(note, 27, 4), 'AAAA') WHERE size = 5`,
          )),
      ),
    gate: [],
    audit: ['other-history'],
    outside: ['other-history', 'signature-wrong'],
    witness: [],
  },
  'a trigger is dropped': {
    work: sql('DROP TRIGGER event_not_deleted', 'DROP TRIGGER event_not_deleted ON event'),
    gate: [],
    audit: ['store-object-missing'],
    outside: ['store-object-missing'],
    witness: [],
  },
  'a trigger is made weaker': {
    work: sql(
      'DROP TRIGGER event_not_deleted; CREATE TRIGGER event_not_deleted BEFORE DELETE ON event BEGIN SELECT 1; END',
      `CREATE OR REPLACE FUNCTION event_not_deleted() RETURNS trigger LANGUAGE plpgsql AS 'BEGIN RETURN NULL; END'`,
    ),
    gate: [],
    audit: ['store-object-altered'],
    outside: ['store-object-altered'],
    witness: [],
  },
  'a foreign trigger swallows entries': {
    work: sql(
      'CREATE TRIGGER mine BEFORE INSERT ON event BEGIN SELECT RAISE(IGNORE); END',
      `CREATE FUNCTION mine() RETURNS trigger LANGUAGE plpgsql AS 'BEGIN RETURN NULL; END';
       CREATE TRIGGER mine BEFORE INSERT ON event FOR EACH ROW EXECUTE FUNCTION mine()`,
    ),
    gate: ['not-entered'],
    audit: ['store-object-foreign'],
    outside: ['store-object-foreign'],
    witness: [],
  },
  'a table is added': {
    work: sql('CREATE TABLE mine (id INTEGER)', 'CREATE TABLE mine (id integer)'),
    gate: [],
    audit: ['store-object-foreign'],
    outside: ['store-object-foreign'],
    witness: [],
  },
  'an index is dropped': {
    work: sql('DROP INDEX issued_number', 'DROP INDEX issued_number'),
    gate: [],
    audit: ['store-object-missing'],
    outside: ['store-object-missing'],
    witness: [],
  },
  'an entry is made a year ahead of the clock': {
    work: async (bench) => {
      const ahead = new Date(Date.now() + 366 * 24 * 3_600_000).toISOString();
      await append({ at: ahead })(bench);
    },
    gate: ['clock-behind'],
    audit: ['entry-ahead'],
    outside: ['entry-ahead'],
    witness: [],
  },
  'an entry is dated back': {
    work: append({ at: '2025-12-24T12:00:00.000Z' }),
    gate: [],
    audit: ['time-runs-back'],
    outside: ['time-runs-back'],
    witness: [],
  },
  'the edition is closed with a statement that is false': {
    work: async (bench) => {
      const rows = await eventsOf(bench);
      const { at, document, maker, remarks } = STATED;
      const root = rootOf(rows.map(({ leaf }) => leaf)).toString('hex');
      await append({
        ...{ type: 'closed', series: undefined, number: undefined, label: undefined },
        ...{ statement: '0'.repeat(64), stated: { at, document, maker, remarks, root, size: rows.length } },
      })(bench);
    },
    gate: ['closed-to-issue'],
    audit: ['statement-differs'],
    outside: ['statement-differs'],
    witness: [],
  },
  'with the stolen key another history is signed': {
    work: async (bench) => {
      await rewrite((rows) => remade(forge(rows)), 0)(bench);
      await checkpointOf(bench.elsewhere);
    },
    gate: ['register-other'],
    audit: [],
    outside: ['two-histories'],
    witness: ['other-events'],
  },
};

const cell = (codes: readonly string[]): string => codes.map((code) => `\`${code}\``).join(', ') || '–';

/** The same as a table, for `docs/audit.md`. */
export const tamperTable = (): string[] => [
  '| What is done | The next entry here | `audit` alone | `audit` with a checkpoint from outside | The outside witness |',
  '| --- | --- | --- | --- | --- |',
  ...Object.entries(TAMPERINGS).map(([what, { gate, audit, outside, witness }]) => {
    const more = audit.length > 0 && outside.join() === audit.join() ? 'the same' : cell(outside);
    return `| ${[what, cell(gate), cell(audit), more, cell(witness)].join(' | ')} |`;
  }),
];
