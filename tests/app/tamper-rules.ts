import { cpSync, mkdirSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect } from 'vitest';
import { type AuditRequest, auditRegister } from '../../src/app/audit.js';
import { auditLines } from '../../src/app/audit-report.js';
import { requestFor } from '../../src/app/cosigned.js';
import type { Environment } from '../../src/app/environment.js';
import { registerOf } from '../../src/app/kept-register.js';
import { showKey } from '../../src/app/key.js';
import { type OpenDocuments, registerFile } from '../../src/app/open-documents.js';
import { recordEvents } from '../../src/app/record.js';
import { addLog, cosignRequest, newWitness } from '../../src/app/witness.js';
import { type Problem, Refusal } from '../../src/problem.js';
import type { OnServer } from '../register/postgres-open.js';
import { type Bench, eventsOf, type Store } from './either-store.js';
import { begun, issue } from './resume-rules.js';
import { TAMPERINGS } from './tamper-ways.js';
import { onRegister } from './workshop.js';

/** A bench that has lived a while, what others outside hold of it, and the hand of somebody who may write all of it. */
export interface TamperBench extends Bench {
  readonly store: string;
  /** The same workshop on a machine that has the key, and remembers nothing. */
  readonly elsewhere: OpenDocuments;
  /** The events of another workshop of this name. */
  another(): Promise<{ seq: number; body: string; leaf: Buffer }[]>;
}

interface Outside {
  readonly key: string;
  readonly note: string;
  readonly witness: string;
  readonly witnessed: Environment;
}

interface Lived {
  readonly bench: Bench;
  readonly outside: Outside;
  /** Puts everything back as it was. */
  again(): Promise<void>;
  another(): Promise<{ seq: number; body: string; leaf: Buffer }[]>;
}

const kept: string[] = [];
afterAll(() => {
  for (const folder of kept.splice(0)) rmSync(folder, { recursive: true, force: true });
});
const keptFolder = (): string => {
  const folder = mkdtempSync(join(tmpdir(), 'burin-tamper-'));
  kept.push(folder);
  return folder;
};

const edition = 'nine-lights';

/** Five entries that a witness saw, and two more that this machine signed. */
async function live(store: Store, server: OnServer): Promise<Lived> {
  const bench = await begun(store, server);
  const { workshop } = bench;
  const { dir, environment } = workshop;
  const folder = keptFolder();
  const outside = {
    key: join(folder, 'maker.pub'),
    note: join(folder, 'seen'),
    witness: join(folder, 'witness.pub'),
  };
  const witnessed = { registerUrl: undefined, keysFolder: join(folder, 'witness-keys') };
  await showKey({ workshop: dir, environment }, outside.key);
  await newWitness(witnessed, 'harbour', outside.witness);
  await addLog(witnessed, outside.key);
  await requestFor(workshop, undefined, join(folder, 'request'));
  await cosignRequest(witnessed, join(folder, 'request'), outside.note);
  await recordEvents(workshop, { edition, labels: ['02/90'], event: 'engraved', by: 'A. Moss' });
  await issue(workshop, 1);
  const rows = await eventsOf(bench);
  const checkpoints = await onRegister(workshop, (register) => register.checkpoints());
  const saved = join(folder, 'keys');
  cpSync(environment.keysFolder, saved, { recursive: true });
  return {
    bench,
    outside: { ...outside, witnessed },
    async again() {
      rmSync(environment.keysFolder, { recursive: true });
      cpSync(saved, environment.keysFolder, { recursive: true });
      if (environment.registerUrl === undefined)
        for (const end of ['', '-wal', '-shm']) rmSync(registerFile(dir) + end, { force: true });
      else await bench.sql('DROP SCHEMA IF EXISTS burin CASCADE');
      await onRegister(workshop, (register) => register.restore(each(rows), checkpoints));
    },
    another: async () => {
      const other = await begun(store, server);
      await issue(other.workshop, 3);
      return eventsOf(other);
    },
  };
}

async function* each<T>(all: readonly T[]): AsyncGenerator<T> {
  yield* all;
}

/** A machine that has the key, and remembers nothing. */
function elsewhere(workshop: OpenDocuments): OpenDocuments {
  const keysFolder = join(keptFolder(), 'keys');
  mkdirSync(keysFolder, { mode: 0o700 });
  const { keysFolder: from } = workshop.environment;
  for (const name of readdirSync(from))
    if (/\.(pem|keys)$/.test(name)) cpSync(join(from, name), join(keysFolder, name));
  return { ...workshop, environment: { ...workshop.environment, keysFolder, keepsMemory: false } };
}

const short = (code: string): string => code.replace(/^(audit|register|log|witness)\./, '');
const codesOf = (problems: readonly Problem[]): string[] =>
  [...new Set(problems.map(({ code }) => short(code)))].sort();

async function refused(work: Promise<unknown>): Promise<string[]> {
  try {
    await work;
    return [];
  } catch (error) {
    if (error instanceof Refusal) return codesOf(error.problems);
    throw error;
  }
}

/** Where a tampering shows, and as what. */
export type Found = Record<'gate' | 'audit' | 'outside' | 'witness', readonly string[]>;

/** Tampers in each way with a register on a store, and looks where it shows. */
export async function tamper(
  name: string,
  store: Store,
  server: OnServer,
  ways: readonly string[],
): Promise<Record<string, Found>> {
  const { bench, outside, again, another } = await live(store, server);
  const { workshop } = bench;
  const found: Record<string, Found> = {};
  const faults = async (request: AuditRequest) => {
    const result = await auditRegister(registerOf(workshop), request);
    const codes = codesOf(result.report.findings.filter(({ grade }) => grade === 'fault'));
    return { codes, lines: auditLines(result) };
  };
  for (const way of ways) {
    await again();
    const owner = elsewhere(workshop);
    await TAMPERINGS[way]!.work({ ...bench, store: name, elsewhere: owner, another });
    const alone = await faults({});
    // An audit never says that nothing could be hidden from it.
    expect(alone.lines).toContainEqual(
      expect.stringMatching(/\d+ events are covered by no outside checkpoint/),
    );
    const { key, note, witness, witnessed } = outside;
    const shown = await faults({ key, checkpoints: [note], witnesses: [witness] });
    const gate = await refused(issue(workshop, 1));
    const asked = { ...witnessed, keysFolder: join(keptFolder(), 'keys') };
    cpSync(witnessed.keysFolder, asked.keysFolder, { recursive: true });
    const request = join(keptFolder(), 'request');
    const seen = await refused(requestFor(owner, note, request).then(() => cosignRequest(asked, request)));
    found[way] = { gate, audit: alone.codes, outside: shown.codes, witness: seen };
  }
  return found;
}

/** What is to be found. */
export const expected = (ways: readonly string[]): Record<string, Found> =>
  Object.fromEntries(
    ways.map((way) => {
      const { gate, audit, outside, witness } = TAMPERINGS[way]!;
      return [way, { gate, audit, outside, witness }];
    }),
  );
