import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { Ajv } from 'ajv';
import { describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import { jsonSchemas, writeJsonSchemas } from '../../src/documents/json-schema.js';
import { folders, type Kind } from '../../src/documents/schemas.js';
import { goodWorkshop } from './workshop-copy.js';

const made = jsonSchemas();
const kinds = Object.keys(made) as Kind[];

function documentsOf(kind: Kind): [file: string, value: unknown][] {
  const files =
    kind === 'workshop'
      ? ['workshop.yaml']
      : readdirSync(path.join(goodWorkshop, folders[kind])).map((name) => `${folders[kind]}/${name}`);
  return files.map((file) => [file, parse(readFileSync(path.join(goodWorkshop, file), 'utf8'))]);
}

/** Every `properties` entry anywhere in a schema. */
function properties(schema: unknown, at = ''): [path: string, property: Record<string, unknown>][] {
  if (typeof schema !== 'object' || schema === null) return [];
  return Object.entries(schema).flatMap(([key, value]): [string, Record<string, unknown>][] => {
    const below = properties(value, `${at}/${key}`);
    if (key !== 'properties') return below;
    const own = Object.entries(value as Record<string, Record<string, unknown>>);
    return [...own.map(([name, p]): [string, Record<string, unknown>] => [`${at}/${name}`, p]), ...below];
  });
}

// The judge is ajv, an independent reader of JSON Schema draft 7, with its own strictness on.
describe.each(kinds)('the JSON Schema of a %s', (kind) => {
  const ajv = new Ajv({ strict: true, strictTypes: 'log', strictTuples: false, allowUnionTypes: true });

  test('is valid draft 7', () => {
    expect(ajv.validateSchema(made[kind])).toBe(true);
  });

  test('accepts the good documents', () => {
    const validate = ajv.compile(made[kind]);
    const documents = documentsOf(kind);
    expect(documents.length).toBeGreaterThan(0);
    for (const [file, value] of documents) {
      expect(validate(value), `${file}: ${JSON.stringify(validate.errors)}`).toBe(true);
    }
  });

  test('refuses an unknown key and a document of another kind', () => {
    const validate = ajv.compile(made[kind]);
    for (const [, value] of documentsOf(kind)) {
      expect(validate({ ...(value as object), colour: 'blue' })).toBe(false);
      expect(validate({ ...(value as object), kind: 'other' })).toBe(false);
    }
  });

  test('describes every key, for editors to show', () => {
    const silent = properties(made[kind]).filter(([, property]) => typeof property.description !== 'string');
    expect(silent.map(([at]) => at)).toEqual([]);
  });
});

test('the schemas are written one to a file', async () => {
  const dir = mkdtempSync(path.join(os.tmpdir(), 'burin-schemas-'));
  try {
    const written = await writeJsonSchemas(path.join(dir, 'new'));
    expect(written.sort()).toEqual(kinds.map((kind) => `${kind}.schema.json`).sort());
    expect(readdirSync(path.join(dir, 'new')).sort()).toEqual(written.sort());
    const part: unknown = JSON.parse(readFileSync(path.join(dir, 'new/part.schema.json'), 'utf8'));
    expect(part).toEqual(JSON.parse(JSON.stringify(made.part)));
  } finally {
    rmSync(dir, { recursive: true, force: true });
  }
});
