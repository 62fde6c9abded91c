import { createHash } from 'node:crypto';
import { isOfNumber, type RegisterEvent } from '../../src/register/event.js';
import type { StoredEvent } from '../../src/register/register.js';
import { countOf, editionOf, IMPORTED, importedBy, kindOf, lifeOf, ownEditionOf } from './request.mjs';
import type { Soak } from './soak.js';

export interface Faults {
  /** A number issued twice, a request carried out twice, an edition opened or closed twice. */
  readonly doubles: string[];
  /** Told to a worker, and not in the register as told. */
  readonly lost: string[];
  /** A request of several events that is there in part. */
  readonly halves: string[];
  /** Asked again with the same key, and answered otherwise. */
  readonly otherAnswers: string[];
  /** A statement of edition that is not what the log says, or that an open edition has. */
  readonly statements: string[];
}

/** A statement of edition as found on the disk, by its edition. */
export type StatementFiles = ReadonlyMap<string, { readonly json: string; readonly text: string }>;

/**
 * Holds what the workers were told, and the statements found on the disk, against what the register has. Nothing of the
 * register's own judging is used.
 */
export function holdAgainst({ workers }: Soak, kept: readonly StoredEvent[], files: StatementFiles): Faults {
  const faults: Faults = { doubles: [], lost: [], halves: [], otherAnswers: [], statements: [] };
  const byKey = new Map<string, StoredEvent[]>();
  const closings = new Map<string, StoredEvent>();
  const imports = new Map<string, StoredEvent[]>();
  const once = new Set<string>();
  const doubled = (what: string) => {
    if (once.has(what)) faults.doubles.push(what);
    once.add(what);
  };
  for (const stored of kept) {
    const { event } = stored;
    const { type, edition, key, by } = event;
    if (key !== undefined) {
      doubled(`${key}: ${event.nth}`);
      addTo(byKey, key, stored);
      if (event.nth !== byKey.get(key)!.length) faults.halves.push(`${key}: ${event.nth}`);
    } else if (isOfNumber(event)) addTo(imports, `${by} ${edition}`, stored);
    if (type === 'opened' || type === 'closed') doubled(`${edition} ${type}`);
    if (type === 'issued') {
      doubled(`${edition} ${event.series} ${event.number}`);
      doubled(`${edition} label ${event.label}`);
    }
    if (type === 'closed') closings.set(edition, stored);
  }

  for (const [key, all] of byKey) {
    const wanted = eventsOf(key);
    const types = all.map(({ event }) => event.type);
    if (types.join() !== wanted.join()) faults.halves.push(`${key}: ${types} for ${wanted}`);
    if (all.at(-1)!.seq - all[0]!.seq !== all.length - 1) faults.halves.push(`${key}: not together`);
    const edition = key.includes(' own') ? undefined : wantedEdition(key);
    if (edition !== undefined && all.some(({ event }) => event.edition !== edition))
      faults.lost.push(`${key} in another edition`);
  }
  for (const [who, all] of imports) {
    const [name] = who.split(' ');
    const wanted = importedBy(name!).flatMap((number) => IMPORTED.map((type) => `${type} ${number}`));
    const got = all.map(({ event }) => `${event.type} ${isOfNumber(event) && event.number}`);
    if (got.join() !== wanted.join() || all.at(-1)!.seq - all[0]!.seq !== all.length - 1)
      faults.halves.push(`import ${who}: ${got}`);
  }

  for (const { name, answers } of workers) {
    for (const [request, all] of answers) {
      const what = `${name}-${request}`;
      if (new Set(all).size !== 1) faults.otherAnswers.push(`${what}: ${all.join(' / ')}`);
      if (!isThere(name, request, all[0]!, { byKey, closings, imports }))
        faults.lost.push(`${what}: ${all[0]}`);
    }
  }

  for (const [edition, closing] of closings)
    faults.statements.push(...statementFaults(edition, closing, kept, files.get(edition)));
  for (const edition of files.keys())
    if (!closings.has(edition)) faults.statements.push(`${edition} is open and has a statement`);
  return faults;
}

interface Known {
  readonly byKey: ReadonlyMap<string, readonly StoredEvent[]>;
  readonly closings: ReadonlyMap<string, StoredEvent>;
  readonly imports: ReadonlyMap<string, readonly StoredEvent[]>;
}

/** Whether the register has what a worker was told. */
function isThere(name: string, request: string, told: string, { byKey, closings, imports }: Known): boolean {
  const [first, nth] = request.split('.');
  const i = Number(first);
  const edition = editionOf(i);
  if (nth !== undefined) return byKey.has(`${name}-${i} ${nth}`);
  const closed = closings.get(edition);
  const numbers = byKey.get(`${name}-${i}`);
  switch (kindOf(i)) {
    case 'issue':
      if (told === 'refused') return !numbers && closed !== undefined;
      return numbers?.map(({ event }) => isOfNumber(event) && event.number).join() === told;
    case 'import': {
      const there = imports.get(`${name} ${edition}`);
      return told === 'refused' ? !there && closed !== undefined : there !== undefined;
    }
    case 'amend':
      return told === 'amended' && numbers !== undefined;
    case 'close':
      return closed?.event.type === 'closed' && closed.event.statement === told;
  }
}

/** The number of the request in a key: `bench-a-17` or `bench-a-17 3`. */
const placeIn = (key: string): number => Number(key.split(' ')[0]!.split('-').at(-1));

const wantedEdition = (key: string): string => {
  const i = placeIn(key);
  return kindOf(i) === 'amend' ? ownEditionOf(key.slice(0, key.lastIndexOf('-'))) : editionOf(i);
};

/** The events that a request of that key is to have, all of them. */
function eventsOf(key: string): RegisterEvent['type'][] {
  if (key.endsWith(' own')) return ['issued'];
  const [, nth] = key.split(' ');
  const i = placeIn(key);
  if (nth === undefined)
    return kindOf(i) === 'amend' ? ['amended'] : Array.from({ length: countOf(i) }, () => 'issued');
  const type = lifeOf(i)[Number(nth)]!;
  return type === 'both'
    ? Array.from({ length: Math.min(2, countOf(i)) }, () => 'engraved')
    : [type as RegisterEvent['type']];
}

function addTo<K, V>(map: Map<K, V[]>, key: K, value: V): void {
  const before = map.get(key);
  if (before) before.push(value);
  else map.set(key, [value]);
}

const sha256 = (...parts: readonly (string | Buffer)[]): Buffer => {
  const hash = createHash('sha256');
  for (const part of parts) hash.update(part);
  return hash.digest();
};

/** RFC 9162, 2.1.1, as its text has it: split at the largest power of two below the size. */
function rootOf(leaves: readonly Buffer[]): Buffer {
  if (leaves.length === 0) return sha256('');
  if (leaves.length === 1) return leaves[0]!;
  let half = 1;
  while (half * 2 < leaves.length) half *= 2;
  return sha256(Buffer.from([1]), rootOf(leaves.slice(0, half)), rootOf(leaves.slice(half)));
}

interface Counted {
  readonly id: string;
  readonly issued: number;
  readonly delivered: number;
  readonly void: number;
  readonly recut: number;
}

function statementFaults(
  edition: string,
  closing: StoredEvent,
  kept: readonly StoredEvent[],
  file: { readonly json: string; readonly text: string } | undefined,
): string[] {
  if (closing.event.type !== 'closed' || !file) return [`${edition} is closed and has no statement`];
  const found: string[] = [];
  const digest = sha256(file.json).toString('hex');
  if (digest !== closing.event.statement) found.push(`${edition}: not the statement that the register has`);
  if (!file.text.includes(digest)) found.push(`${edition}: the text is of another statement`);
  const { log, series } = JSON.parse(file.json) as {
    log: { size: number; root: string };
    series: readonly Counted[];
  };
  const covered = kept.slice(0, log.size).map(({ leaf }) => leaf);
  if (rootOf(covered).toString('base64') !== log.root) found.push(`${edition}: another log`);
  const before = kept.slice(0, closing.seq).filter(({ event }) => event.edition === edition);
  if (before.some(({ seq }) => seq >= log.size)) found.push(`${edition}: entered after it was counted`);
  for (const { id, ...counts } of series) {
    const lives = new Map<number, string[]>();
    for (const { event } of before)
      if (isOfNumber(event) && event.series === id) addTo(lives, event.number, event.type);
    const all = [...lives.values()];
    const lastOf = (life: readonly string[], ...types: string[]) => life.findLast((t) => types.includes(t));
    const wanted: Omit<Counted, 'id'> = {
      issued: all.filter((life) => life.includes('issued')).length,
      delivered: all.filter(
        (life) => lastOf(life, 'delivered', 'returned', 'stolen', 'found') === 'delivered',
      ).length,
      void: all.filter((life) => life.includes('void')).length,
      recut: all.filter((life) => life.includes('recut')).length,
    };
    for (const name of Object.keys(wanted) as (keyof typeof wanted)[])
      if (counts[name] !== wanted[name])
        found.push(`${edition} ${id}: ${counts[name]} ${name}, where the log has ${wanted[name]}`);
  }
  return found;
}
