import type { z } from 'zod';
import type { Problem } from '../problem.js';
import { readText } from './bytes.js';
import { digestOf } from './digest.js';
import { problem } from './messages.js';
import { nearest } from './nearest.js';
import { formatValue, plainText, quote, subject } from './quote.js';
import { issueProblems } from './schema-issues.js';
import { folders, type Kind, schemas } from './schemas.js';
import type { Places } from './source-places.js';
import { parseYaml } from './yaml.js';

export type DocumentOf<K extends Kind> = z.infer<(typeof schemas)[K]>;

/** One document that has passed its schema, with the places of its values. */
export interface Sound<K extends Kind> {
  readonly file: string;
  readonly value: DocumentOf<K>;
  readonly digest: string;
  readonly places: Places;
}

/** `document` is there when its schema is met, even if a key is given twice. */
export type Outcome<K extends Kind> = { document?: Sound<K>; problems: Problem[] };

/** One document from its bytes: text, YAML, kind and version, schema. Nothing is looked up outside it. */
export function readDocument<K extends Kind>(kind: K, file: string, bytes: Uint8Array): Outcome<K> {
  const text = readText(file, bytes);
  if (!text.ok) return { problems: text.problems };
  const { tree, problems } = parseYaml(file, text.text);
  if (!tree) return { problems };
  const { value, places } = tree;
  const foreign = otherKind(kind, value as Record<string, unknown>, places);
  if (foreign) return { problems: [...problems, foreign] };
  const schema = schemas[kind];
  // A reader compiled for a kind takes longer to make than the few documents of that kind take without one.
  const result = schema.safeParse(value, { jitless: true });
  if (!result.success) {
    return {
      problems: [...problems, ...issueProblems({ kind, schema, value, places }, result.error.issues)],
    };
  }
  const document = { file, value: result.data as DocumentOf<K>, digest: digestOf(value), places };
  return { document, problems };
}

/** A document of another kind or version: one line, for every other would be beside the point. */
function otherKind(kind: Kind, value: Record<string, unknown>, places: Places): Problem | undefined {
  const home = kind === 'workshop' ? 'workshop.yaml' : `${folders[kind]}/`;
  const given = value.kind;
  const kinds = Object.keys(schemas);
  if (given === undefined) return problem('documents.kind-missing', places.at(), { kind });
  if (given !== kind) {
    const where = places.at('kind');
    if (typeof given === 'string' && kinds.includes(given)) {
      const right =
        given === 'workshop' ? 'workshop.yaml' : `${folders[given as Exclude<Kind, 'workshop'>]}/`;
      return problem('documents.kind-elsewhere', where, { given, home, kind, right });
    }
    const close = typeof given === 'string' ? nearest(given, kinds) : undefined;
    const value = subject(given, places.written(['kind']));
    return close
      ? problem('documents.kind-close', where, { value, close: plainText(close) })
      : problem('documents.kind-unknown', where, { value, kind, kinds: kinds.map((k) => quote(k)) });
  }
  if (value.version === undefined) {
    return problem('documents.version-missing', places.at(), {});
  }
  if (value.version !== 1) {
    const values = { kind, value: formatValue(value.version, places.written(['version'])) };
    return problem('documents.version-unknown', places.at('version'), values);
  }
  return undefined;
}
