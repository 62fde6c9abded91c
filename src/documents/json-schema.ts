import { mkdir, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { z } from 'zod';
import { type Kind, schemas } from './schemas.js';

/** JSON Schema draft 7, the draft that editors complete YAML with. */
const TARGET = 'draft-7';

/** A JSON Schema of each noun as its author writes it: keys with a default may be left out. */
export function jsonSchemas(): Record<Kind, object> {
  const kinds = Object.keys(schemas) as Kind[];
  const entries = kinds.map((kind) => {
    const schema = z.toJSONSchema(schemas[kind], { io: 'input', target: TARGET });
    return [kind, { title: kind, ...schema }] as const;
  });
  return Object.fromEntries(entries) as Record<Kind, object>;
}

/** Writes `<kind>.schema.json` for every noun into a folder, made if need be; returns the names written. */
export async function writeJsonSchemas(dir: string): Promise<string[]> {
  await mkdir(dir, { recursive: true });
  const written: string[] = [];
  for (const [kind, schema] of Object.entries(jsonSchemas())) {
    const name = `${kind}.schema.json`;
    await writeFile(path.join(dir, name), `${JSON.stringify(schema, null, 2)}\n`);
    written.push(name);
  }
  return written;
}
