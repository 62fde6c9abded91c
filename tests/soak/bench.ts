import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { type OpenDocuments, registerPlace } from '../../src/app/open-documents.js';
import { fromLeaf } from '../../src/register/event.js';
import { openRegister } from '../../src/register/open.js';
import type { StoredEvent } from '../../src/register/register.js';
import { newFolder, newWorkshopCopy } from '../app/workshop.js';
import type { StatementFiles } from './hold-against.js';
import { editionOf, ownEditionOf, PER_EDITION } from './request.mjs';
import type { Bench } from './soak.js';

const SERIES = `  - id: main
    title: Numbered edition
    to: 1200
  - id: proofs
    title: Proofs
    to: 40
    before: 'P '
`;

/** A workshop of many editions, where eight processes share one machine's memory of the register. */
export async function newBench(
  names: readonly string[],
  editions: number,
  register?: string,
): Promise<Bench> {
  const ids = [
    ...Array.from({ length: editions }, (_, i) => editionOf(i * PER_EDITION)),
    ...names.map(ownEditionOf),
  ];
  const { dir } = await newWorkshopCopy(Object.fromEntries(ids.map((id) => [id, SERIES])));
  const environment = {
    BURIN_KEYS: join(newFolder(), 'keys'),
    ...(register !== undefined && { BURIN_REGISTER: register }),
  };
  return { folder: dir, environment };
}

/** The statements under their names in a folder, by edition. */
export function statementsIn(folder: string): StatementFiles {
  const out = join(folder, 'out');
  const editions = existsSync(out) ? readdirSync(out) : [];
  const read = (edition: string, end: string) => {
    const file = join(out, edition, `statement.${end}`);
    return existsSync(file) ? readFileSync(file, 'utf8') : undefined;
  };
  return new Map(
    editions.flatMap((edition) => {
      const [json, text] = [read(edition, 'json'), read(edition, 'txt')];
      return json === undefined && text === undefined
        ? []
        : [[edition, { json: json ?? '', text: text ?? '' }] as const];
    }),
  );
}

/** All that its register has, each verified against its hash. */
export async function keptIn(workshop: OpenDocuments): Promise<StoredEvent[]> {
  const register = await openRegister(registerPlace(workshop), { now: () => new Date() });
  try {
    const kept: StoredEvent[] = [];
    for await (const raw of register.events()) kept.push({ ...raw, event: fromLeaf(raw.seq, raw) });
    return kept;
  } finally {
    await register.close();
  }
}
