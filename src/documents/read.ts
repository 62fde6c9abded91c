import type { z } from 'zod';
import { type Problem, problem } from '../problem.js';
import { readText } from './bytes.js';
import { digestOf } from './digest.js';
import { issueProblems } from './issue.js';
import { nearest } from './nearest.js';
import type { Places } from './place.js';
import { article, either, quoted, shown, subject } from './quote.js';
import { folders, type Kind, schemas } from './schemas.js';
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
  const result = schema.safeParse(value);
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
  if (given === undefined) {
    return problem(places.at(), '`kind` is missing.', `Begin with ${quoted(`kind: ${kind}`)}.`);
  }
  if (given !== kind) {
    const where = places.at('kind');
    if (typeof given === 'string' && kinds.includes(given)) {
      const right =
        given === 'workshop' ? 'workshop.yaml' : `${folders[given as Exclude<Kind, 'workshop'>]}/`;
      const what = `This is ${article(given)}, ${home} is for ${article(kind)}.`;
      return problem(where, what, `Move it to ${right} or write ${quoted(`kind: ${kind}`)}.`);
    }
    const close = typeof given === 'string' ? nearest(given, kinds) : undefined;
    const cure = close
      ? `Did you mean ${quoted(close)}?`
      : `Write ${quoted(`kind: ${kind}`)}; the kinds are ${either(kinds.map((k) => quoted(k)))}.`;
    return problem(where, `${subject(given)} is not a kind of document.`, cure);
  }
  if (value.version === undefined) {
    return problem(places.at(), '`version` is missing.', 'Add `version: 1`.');
  }
  if (value.version !== 1) {
    const what = `This burin reads version 1 of ${article(kind)}, not ${shown(value.version)}.`;
    return problem(places.at('version'), what, 'Write `version: 1`, or use a burin that knows it.');
  }
  return undefined;
}
