import { generateKeyPairSync } from 'node:crypto';
import { describe, expect, test } from 'vitest';
import type { Refusal } from '../../../src/problem.js';
import { type RegisterEvent, toLeaf } from '../../../src/register/event.js';
import { makeCheckpoint } from '../../../src/register/log/checkpoint.js';
import { MerkleAccumulator, rootOf } from '../../../src/register/log/merkle-accumulator.js';
import { consistencyProblem, consistencyProof } from '../../../src/register/log/merkle-proof.js';
import { type Checkpoint, openCheckpoint, signCheckpoint, signerOf } from '../../../src/register/log/note.js';
import type { RawEvent, StoredCheckpoint } from '../../../src/register/register.js';
import { NO_RESUMPTIONS } from '../../../src/register/resumption/resumptions.js';
import { cleanAfterEach, newFile, open } from '../folder.js';
import { PLAN } from '../rules.js';

cleanAfterEach();

const newSigner = () => signerOf('burin/lantern-coast', generateKeyPairSync('ed25519').privateKey);
const signer = newSigner();

const eventOf = (n: number, why = 'next free number'): RegisterEvent => ({
  type: 'issued',
  edition: 'nine-lights',
  series: 'main',
  number: n + 1,
  label: `${n + 1}/90`,
  by: 'A. Moss',
  at: '2021-03-01T09:30:00.000Z',
  why,
});

/** A register whose keeper does with it what he likes. */
class OpenRegister {
  rows: RawEvent[] = [];
  kept: StoredCheckpoint[] = [];
  readonly read: number[] = [];

  constructor(events: number) {
    this.grow(events);
  }

  grow(events: number): this {
    for (let i = 0; i < events; i++)
      this.rows.push({ seq: this.rows.length, ...toLeaf(eventOf(this.rows.length)) });
    return this;
  }

  /** Puts another event in a place, its hash as it should be. */
  alter(seq: number): this {
    this.rows[seq] = { seq, ...toLeaf(eventOf(seq, 'told otherwise')) };
    return this;
  }

  async size() {
    return this.rows.length;
  }

  async *events(from = 0) {
    for (const row of this.rows.slice(from)) {
      this.read.push(row.seq);
      yield row;
    }
  }

  async addCheckpoint(checkpoint: StoredCheckpoint) {
    this.kept.push(checkpoint);
  }

  async resumptions() {
    return NO_RESUMPTIONS;
  }

  sign(by = signer, last?: Checkpoint, remember?: (note: string) => Promise<void>) {
    return makeCheckpoint(this, by, { stored: this.kept.at(-1), last }, remember);
  }

  get leaves(): Buffer[] {
    return this.rows.map(({ leaf }) => leaf);
  }
}

describe('a checkpoint', () => {
  test('tells the tree of all events, and keeps its subtrees', async () => {
    const register = new OpenRegister(11);
    const made = await register.sign();
    expect(made).toMatchObject({ made: true, origin: 'burin/lantern-coast', size: 11 });
    expect(made.root).toEqual(rootOf(register.leaves));
    expect(openCheckpoint(made.note, signer)).toMatchObject({
      ok: true,
      checkpoint: { size: 11, root: made.root },
    });
    expect(register.kept).toHaveLength(1);
    expect(new MerkleAccumulator(11, register.kept[0]!.frontier).root()).toEqual(made.root);
  });

  test('reads only what came since the last, and is the same as if it had read all', async () => {
    const register = new OpenRegister(11);
    const first = await register.sign();
    register.read.length = 0;
    const second = await register.grow(6).sign();
    expect(register.read).toEqual([11, 12, 13, 14, 15, 16]);
    expect(second.root).toEqual(rootOf(register.leaves));
    expect(consistencyProblem(first, second, consistencyProof(register.leaves, 11, 17))).toBeUndefined();
  });

  test('is not made again when nothing has happened', async () => {
    const register = new OpenRegister(3);
    const first = await register.sign();
    const again = await register.sign();
    expect(again).toEqual({ ...first, made: false });
    expect(register.kept).toHaveLength(1);
  });

  test('is told to whoever remembers before it is kept', async () => {
    const register = new OpenRegister(3);
    const order: string[] = [];
    const made = await register.sign(signer, undefined, async (note) => {
      order.push(note, `kept ${register.kept.length}`);
    });
    expect(order).toEqual([made.note, 'kept 0']);
  });

  test('is not made of nothing', async () => {
    await expect(new OpenRegister(0).sign()).rejects.toMatchObject({ exit: 2 });
  });

  test('of a new key: everything is read again, and what has not grown is signed but not kept twice', async () => {
    const register = new OpenRegister(5);
    const first = await register.sign();
    const rotated = newSigner();
    register.read.length = 0;
    const same = await register.sign(rotated);
    expect(register.read).toEqual([0, 1, 2, 3, 4]);
    expect(same).toMatchObject({ made: false, size: 5, root: first.root });
    expect(openCheckpoint(same.note, rotated).ok).toBe(true);
    expect(register.kept).toHaveLength(1);
    const next = await register.grow(1).sign(rotated);
    expect(next.made).toBe(true);
    register.read.length = 0;
    await register.grow(1).sign(rotated);
    expect(register.read).toEqual([6]);
  });
});

describe('nothing is signed', () => {
  const refused = async (register: OpenRegister, reason: RegExp, by = signer, last?: Checkpoint) => {
    const before = register.kept.length;
    const refusal = await register.sign(by, last).catch((error: Error) => error);
    expect(refusal).toMatchObject({ exit: 3 });
    const problems = (refusal as Refusal).problems.map(
      (p) => `${p.where} ${p.code} ${JSON.stringify(p.values)}`,
    );
    expect(problems.join()).toMatch(reason);
    expect(register.kept).toHaveLength(before);
  };
  const signed = async (events: number) => {
    const register = new OpenRegister(events);
    const checkpoint = await register.sign();
    return { register, checkpoint };
  };

  test('when a text does not fit its hash', async () => {
    const register = new OpenRegister(5);
    register.rows[3] = { ...register.rows[3]!, body: register.rows[2]!.body };
    await refused(register, /event 3 log.event-altered/);
  });

  test('when an event is missing in between, or at the end', async () => {
    const register = new OpenRegister(5);
    register.rows.splice(2, 1);
    await refused(register, /event 2 log.event-missing/);
    const short = new OpenRegister(5);
    short.size = async () => 6;
    await refused(short, /event 5 log.event-missing/);
  });

  test('when events were deleted that were signed for', async () => {
    const { register } = await signed(5);
    register.rows.pop();
    await refused(register, /shorter-than-signed {"signed":5,"size":4}/);
  });

  test('when the kept subtrees are not those that were signed', async () => {
    const { register } = await signed(5);
    const [kept] = register.kept;
    register.kept = [{ ...kept!, frontier: kept!.frontier.toReversed() }];
    await refused(register.grow(1), /log.other-events {"size":5}/);
    register.kept = [{ ...kept!, frontier: kept!.frontier.slice(1) }];
    await refused(register, /log.subtrees-do-not-fit/);
  });

  test('when the kept checkpoint was altered, says another size, or is no note', async () => {
    const { register } = await signed(5);
    const [kept] = register.kept;
    const root = rootOf(new OpenRegister(4).leaves).toString('base64');
    register.kept = [{ ...kept!, note: kept!.note.replace(/\n[^\n]+=\n/, `\n${root}\n`) }];
    await refused(register.grow(1), /log.other-events {"size":5}/);
    register.kept = [{ ...kept!, size: 4 }];
    await refused(register, /log.checkpoint-other-size {"size":5}/);
    register.kept = [{ ...kept!, note: 'signed, A. Moss\n' }];
    await refused(register, /log.kept-note-wrong/);
  });

  test('when another key signed other events: a new key takes no history on trust', async () => {
    const { register } = await signed(5);
    const rotated = newSigner();
    await refused(register.grow(1).alter(2), /log.other-events {"size":5}/, rotated);
  });

  test('from an old copy, when the key remembers more than it has', async () => {
    const { register, checkpoint } = await signed(9);
    const copy = new OpenRegister(7);
    await refused(copy, /signed last log.shorter-than-signed {"signed":9,"size":7}/, signer, checkpoint);
    // The copy goes on by itself: it then has as many events, but not those.
    copy.grow(5).alter(8);
    await refused(copy, /signed last log.other-events {"size":9}/, signer, checkpoint);
    expect((await register.grow(1).sign(signer, checkpoint)).size).toBe(10);
  });

  test('from an old copy with a checkpoint of its own as old', async () => {
    const old = new OpenRegister(4);
    await old.sign();
    const ahead = new OpenRegister(6);
    const checkpoint = await ahead.sign();
    await refused(old.grow(2).alter(5), /signed last log.other-events {"size":6}/, signer, checkpoint);
  });
});

test('the same on a register as it is kept', async () => {
  const register = await open(newFile());
  const edition = 'nine-lights';
  const sign = async () =>
    makeCheckpoint(register, signer, { stored: (await register.checkpoints()).at(-1) });
  await register.issue({ edition, planned: PLAN, series: 'main', count: 5, by: 'A. Moss' });
  const first = await sign();
  await register.record({ edition, ...PLAN[0]!, event: 'engraved', by: 'A. Moss' });
  const second = await sign();
  expect([first.size, second.size, (await sign()).made]).toEqual([5, 6, false]);
  const leaves: Buffer[] = [];
  for await (const { leaf } of register.events()) leaves.push(leaf);
  expect(second.root).toEqual(rootOf(leaves));
  expect((await register.checkpoints()).map(({ note }) => note)).toEqual([first.note, second.note]);
  // Two that sign the same at the same time come to the same note, and nobody is refused.
  const note = signCheckpoint({ size: 6, root: second.root }, signer);
  await register.addCheckpoint({
    size: 6,
    note,
    frontier: new MerkleAccumulator(6, (await register.checkpoints())[1]!.frontier).roots(),
  });
});
