import { generateKeyPairSync } from 'node:crypto';
import canonicalizeModule from 'canonicalize';
import { leafHash } from '../../src/register/event.js';
import { signCheckpoint, signerOf } from '../../src/register/log/note.js';
import { type Bench, eventsOf, putRows } from './either-store.js';

export const canonicalText = canonicalizeModule as unknown as (value: unknown) => string;

/** What is wrong with what is put in, and what going past it comes to. */
export interface BadEntry {
  /** Puts it in; gives the place of the entry, or the size of the checkpoint. */
  put(bench: Bench): Promise<{ readonly entry: number } | { readonly checkpoint: number }>;
  readonly fault: 'text' | 'rule' | 'time' | 'checkpoint';
  /** Labels that are withheld with it. */
  readonly withheld?: readonly string[];
  /** The labels that are issued next, in place of the next two. */
  readonly next?: readonly string[];
  /** Whether something else than the log refuses to go on before. */
  readonly jams: 'issue' | 'statuses' | 'signing' | 'audit';
}

const common = { edition: 'nine-lights', series: 'main', by: 'B. Fern', why: 'by hand' };
const numberOf = (number: number) => ({ number, label: `${String(number).padStart(2, '0')}/90` });

/** An event as the last one was, with other members. */
async function textOf(bench: Bench, members: object): Promise<{ seq: number; body: string }> {
  const last = (await eventsOf(bench)).at(-1)!;
  const { at } = JSON.parse(last.body) as { at: string };
  return { seq: last.seq + 1, body: canonicalText({ at, ...common, ...members }) };
}

const entry = (
  members: object,
  change: (row: { seq: number; body: string }) => { seq: number; body: string; leaf?: Buffer } = (row) => row,
): BadEntry['put'] =>
  async function put(bench) {
    const row = change(await textOf(bench, members));
    await putRows(bench, [row]);
    return { entry: row.seq };
  };

/** The kept checkpoint altered, or one more beside it. */
const checkpoint = (make: (size: number, note: string) => { size: number; note: string; frontier: Buffer }) =>
  async function put(bench: Bench) {
    const [kept] = (await bench.sql('SELECT size, note FROM checkpoint ORDER BY size DESC')) as {
      size: number;
      note: string;
    }[];
    const { size, note, frontier } = make(kept!.size, kept!.note);
    await bench.pastRules(async () => {
      await bench.sql('DELETE FROM checkpoint WHERE size = $1', [size]);
      await bench.sql('INSERT INTO checkpoint (size, note, frontier) VALUES ($1, $2, $3)', [
        size,
        note,
        frontier,
      ]);
    });
    return { checkpoint: size };
  };

const stranger = signerOf('burin/lantern-coast', generateKeyPairSync('ed25519').privateKey);
const noteFor = (size: number): string => signCheckpoint({ size, root: Buffer.alloc(32, 7) }, stranger);

/** Three numbers are issued before: 01/90 engraved, 02/90 and 03/90 blank; the log is signed. */
export const BAD_ENTRIES: Readonly<Record<string, BadEntry>> = {
  'a year 9999': {
    put: entry({ type: 'engraved', ...numberOf(2), at: '9999-12-31T23:59:59.999Z' }),
    fault: 'time',
    jams: 'issue',
  },
  'a clock of 2040, and what followed it': {
    async put(bench) {
      const at = '2040-01-01T00:00:00.000Z';
      const first = await textOf(bench, { type: 'issued', ...numberOf(4), parts: ['cap'], at });
      const second = canonicalText({ ...common, type: 'engraved', ...numberOf(4), at });
      await putRows(bench, [first, { seq: first.seq + 1, body: second }]);
      return { entry: first.seq };
    },
    fault: 'time',
    jams: 'issue',
    next: ['05/90', '06/90'],
  },
  'a blank at the end of the text': {
    put: entry({ type: 'engraved', ...numberOf(2) }, ({ seq, body }) => ({ seq, body: `${body} ` })),
    fault: 'text',
    jams: 'statuses',
  },
  'the same of a free number': {
    put: entry({ type: 'issued', ...numberOf(4) }, ({ seq, body }) => ({ seq, body: `${body} ` })),
    fault: 'text',
    jams: 'statuses',
    withheld: ['04/90'],
    next: ['05/90', '06/90'],
  },
  'a year 9999 and a blank': {
    put: entry({ type: 'withheld', ...numberOf(4), at: '9999-12-31T23:59:59.999Z' }, ({ seq, body }) => ({
      seq,
      body: `${body} `,
    })),
    fault: 'text',
    jams: 'issue',
    withheld: ['04/90'],
    next: ['05/90', '06/90'],
  },
  'a time that is none': {
    put: entry({ type: 'noted', ...numberOf(2), at: '9999-99-99T99:99:99.999Z' }),
    fault: 'text',
    jams: 'issue',
  },
  'a kind that there is not': {
    put: entry({ type: 'melted', ...numberOf(2) }),
    fault: 'text',
    jams: 'statuses',
  },
  'a hash that is not of the text': {
    put: entry({ type: 'engraved', ...numberOf(2) }, (row) => ({ ...row, leaf: Buffer.alloc(32, 7) })),
    fault: 'text',
    jams: 'statuses',
  },
  'engraved and never issued': {
    put: entry({ type: 'engraved', ...numberOf(4) }),
    fault: 'rule',
    jams: 'statuses',
    withheld: ['04/90'],
    next: ['05/90', '06/90'],
  },
  'a certificate after which there is no other': {
    put: entry({ type: 'certified', ...numberOf(1), serial: 2_147_483_647, digest: 'ab'.repeat(32) }),
    fault: 'rule',
    jams: 'statuses',
  },
  'a loss of more than any register has': {
    put: entry({ type: 'noted', ...numberOf(1), missing: 2_000_000_000 }),
    fault: 'text',
    jams: 'statuses',
  },
  'two numbers and one label': {
    put: entry({ type: 'withheld', number: 4, label: '05/90' }),
    fault: 'rule',
    jams: 'audit',
    withheld: ['04/90', '05/90'],
    next: ['06/90', '07/90'],
  },
  'a release of what is not withheld': {
    put: entry({ type: 'released', ...numberOf(4) }),
    fault: 'rule',
    jams: 'statuses',
    withheld: ['04/90'],
    next: ['05/90', '06/90'],
  },
  'an event of a request that is not there': {
    put: entry({ type: 'noted', ...numberOf(1), key: 'job', nth: 7 }),
    fault: 'rule',
    jams: 'audit',
  },
  'an issue beyond the terms': {
    put: entry({ type: 'issued', number: 91, label: '91/90' }),
    fault: 'rule',
    jams: 'audit',
  },
  'the name of the edition taken by another': {
    put: entry({
      ...{ type: 'opened', edition: 'other', name: 'Nine Lights', series: undefined },
      terms: {
        approvers: [],
        parts: [],
        series: [{ id: 'm', title: 'M', from: 1, to: 9, figures: 'arabic', pad: 1, exclude: [] }],
      },
    }),
    fault: 'rule',
    jams: 'audit',
  },
  'a sound entry gone past': {
    async put(bench) {
      const rows = await eventsOf(bench);
      const engraved = rows.find(({ body }) => body.includes('"engraved"'))!;
      const row = await textOf(bench, {
        ...{ type: 'resumed', series: undefined, witness: 'C. Lark', fault: 'rule' },
        ...{ corrects: engraved.seq, digest: leafHash(engraved.body).toString('hex') },
      });
      await putRows(bench, [row]);
      return { entry: row.seq };
    },
    fault: 'rule',
    jams: 'audit',
  },
  'a checkpoint of the largest size': {
    put: checkpoint(() => ({
      size: 2_147_483_647,
      note: noteFor(2_147_483_647),
      frontier: Buffer.alloc(31 * 32),
    })),
    fault: 'checkpoint',
    jams: 'signing',
  },
  'a checkpoint that is no note': {
    put: checkpoint((size) => ({ size: size + 1, note: 'as ever', frontier: Buffer.alloc(32) })),
    fault: 'checkpoint',
    jams: 'signing',
  },
  'a checkpoint of another log': {
    put: checkpoint((size) => ({ size: size + 1, note: noteFor(size + 1), frontier: Buffer.alloc(64) })),
    fault: 'checkpoint',
    jams: 'signing',
  },
  'a checkpoint with other subtrees': {
    put: checkpoint((size, note) => ({ size, note, frontier: Buffer.alloc(32 * 2, 7) })),
    fault: 'checkpoint',
    jams: 'signing',
  },
};
