import { z } from 'zod';
import { article, joinChoices, quote } from './quote.js';
import type { Path } from './source-places.js';

type Schema = z.core.$ZodType;

/** A schema without the wrappers that only say "may be left out". */
export function unwrapSchema(schema: Schema): Schema {
  let inner = schema;
  while (inner instanceof z.ZodOptional || inner instanceof z.ZodDefault) inner = inner.unwrap();
  return inner;
}

/** What the document's author reads about a value: the nearest `describe` from the outside in. */
export function description(schema: Schema): string | undefined {
  let inner = schema;
  for (;;) {
    const text = z.globalRegistry.get(inner)?.description;
    if (text !== undefined) return text;
    if (!(inner instanceof z.ZodOptional || inner instanceof z.ZodDefault)) return undefined;
    inner = inner.unwrap();
  }
}

/** The branch of a discriminated union that a value has chosen. */
function branch(union: z.ZodDiscriminatedUnion, value: unknown): Schema | undefined {
  const key = union.def.discriminator;
  const chosen = (value as Record<string, unknown> | null)?.[key];
  return union.options.find((option) => {
    const literal = option instanceof z.ZodObject ? option.shape[key] : undefined;
    return literal instanceof z.ZodLiteral && literal.values.has(chosen as string);
  });
}

export interface Site {
  readonly schema: Schema | undefined;
  readonly value: unknown;
}

/** A schema seen through: its wrappers off, and its branch chosen by the value that stands there. */
export function selectBranch(schema: Schema | undefined, value: unknown): Schema | undefined {
  const inner = schema && unwrapSchema(schema);
  if (inner instanceof z.ZodDiscriminatedUnion) return branch(inner, value);
  if (inner instanceof z.ZodUnion && typeof value === 'object') {
    const form = Array.isArray(value) ? z.ZodTuple : z.ZodObject;
    return inner.options.find((option) => option instanceof form);
  }
  return inner;
}

/** Follows a path through schema and value side by side; the schema keeps its wrappers and its description. */
export function siteAt(root: Schema, value: unknown, path: Path): Site {
  let schema: Schema | undefined = root;
  let here = value;
  for (const step of path) {
    const inner = selectBranch(schema, here);
    if (inner instanceof z.ZodObject) schema = inner.shape[String(step)];
    else if (inner instanceof z.ZodArray) schema = inner.element;
    else if (inner instanceof z.ZodTuple) schema = inner.def.items[Number(step)];
    else if (inner instanceof z.ZodRecord) schema = inner.valueType;
    else schema = undefined;
    const holder = here as Record<string | number, unknown> | null | undefined;
    here = typeof holder === 'object' && holder && Object.hasOwn(holder, step) ? holder[step] : undefined;
  }
  return { schema, value: here };
}

/** The keys a mapping may have, once its branch is known. */
export function keysOf({ schema, value }: Site): string[] {
  const inner = selectBranch(schema, value);
  return inner instanceof z.ZodObject ? Object.keys(inner.shape) : [];
}

/** What is wanted in a place, as a phrase: "a number", "a number, a pair of numbers or `any`". */
export function describeExpected(schema: Schema | undefined): string {
  const inner = schema && unwrapSchema(schema);
  if (inner instanceof z.ZodNumber) return inner.isInt ? 'a whole number' : 'a number';
  if (inner instanceof z.ZodString) return 'text';
  if (inner instanceof z.ZodArray) return 'a list';
  if (inner instanceof z.ZodTuple) return 'a pair of numbers such as [10, 20]';
  if (inner instanceof z.ZodObject) {
    const keys = Object.keys(inner.shape);
    return keys.length <= 4 ? `a mapping of ${keys.map((k) => quote(k)).join(' and ')}` : 'a mapping';
  }
  if (inner instanceof z.ZodRecord || inner instanceof z.ZodDiscriminatedUnion) return 'a mapping';
  if (inner instanceof z.ZodLiteral || inner instanceof z.ZodEnum) {
    return joinChoices(choicesOf(inner).map((c) => quote(c)));
  }
  if (inner instanceof z.ZodUnion) return joinChoices(inner.options.map(describeExpected));
  return 'a value';
}

/** The words a place may hold, when it takes only certain ones. */
export function choicesOf(schema: Schema | undefined): string[] {
  const inner = schema && unwrapSchema(schema);
  if (inner instanceof z.ZodLiteral) return [...inner.values].map(String);
  if (inner instanceof z.ZodEnum) return inner.options.map(String);
  if (inner instanceof z.ZodUnion && !(inner instanceof z.ZodDiscriminatedUnion)) {
    return inner.options.flatMap(choicesOf);
  }
  return [];
}

/** What a mapping is, for "is not a key of a clip". */
export function nounOf(kind: string, site: Site, path: Path): string {
  const inner = selectBranch(site.schema, site.value);
  if (path.length === 0) {
    const shape = inner instanceof z.ZodObject ? inner.shape.shape : undefined;
    const which = shape instanceof z.ZodLiteral ? `${[...shape.values].join()} ` : '';
    return article(`${which}${kind}`);
  }
  const named = inner instanceof z.ZodObject ? inner.shape.kind : undefined;
  if (named instanceof z.ZodLiteral) {
    return article(`${[...named.values].join()}${path[0] === 'marks' ? ' mark' : ''}`);
  }
  const words = path.filter((step) => typeof step === 'string');
  const last = words.at(-1) ?? kind;
  return typeof path.at(-1) === 'number' ? `an entry of ${quote(last)}` : quote(last);
}
