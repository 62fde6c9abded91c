import {
  Composer,
  type Document,
  isAlias,
  isMap,
  isScalar,
  isSeq,
  Lexer,
  LineCounter,
  type Node,
  Parser,
} from 'yaml';
import type { Problem } from '../problem.js';
import { problem } from './messages.js';
import { plainText } from './quote.js';
import { type Path, Places } from './source-places.js';
import { slips } from './syntax.js';

/** A workshop's documents nest five deep; beyond this the text is an accident or an attack. */
const DEEPEST = 40;
/** Words and signs. The longest outlines of a pen come to some thousands; reading a million takes many seconds. */
const MOST_LEXEMES = 100_000;
/** Backslashes in quoted text; each wrong one costs the reader an error object. */
const MOST_ESCAPES = 10_000;
const MOST_SYNTAX = 5;
/** More of one kind in a file than anybody reads. */
const MOST_REPORTED = 100;

/** Names every object already answers to; as keys they would be taken for something else. */
const RESERVED: ReadonlySet<string> = new Set(['__proto__', 'constructor', 'prototype']);

export interface Tree {
  readonly value: unknown;
  readonly places: Places;
}

export type Parsed = { tree?: Tree; problems: Problem[] };

/**
 * One YAML 1.2 document (core schema) as a value with places. Refused, because no document here needs them and
 * each can make a short file mean something long or surprising: references, merge keys, tags, directives, keys
 * that are not text, deep nesting. A tree comes back with duplicate keys reported, so that the rest is checked too.
 */
export function parseYaml(file: string, text: string): Parsed {
  const counter = new LineCounter();
  const places = new Places(file, null, counter);
  const tokens = new Tokens(text, counter);
  // Duplicate keys are looked for below: the library compares every key with every other, which a file of
  // 200 000 keys turns into minutes.
  const composer = new Composer({
    version: '1.2',
    schema: 'core',
    customTags: [],
    merge: false,
    uniqueKeys: false,
  });
  let document: Document.Parsed | undefined;
  for (const next of composer.compose(tokens.read(), true, text.length)) {
    if (tokens.stopped) break;
    if (document) {
      const where = places.offset(next.range[0]);
      return { problems: [problem('documents.yaml-second-document', where, {})] };
    }
    document = next as Document.Parsed;
  }
  if (tokens.stopped) return { problems: [overLimit(tokens.stopped, places.offset(tokens.offset))] };
  if (!document) return { problems: [problem('documents.yaml-no-document', places.offset(0), {})] };
  if (document.errors.length > 0) return { problems: syntaxProblems(document, text, places, tokens) };
  return checkDocument(file, document, counter);
}

/** What the lexer puts where a line that is not indented ends the brackets before it. */
const BRACKETS_END = '\u0018';

/** Whether quoted text ends in a quote that closes it: one that is neither escaped nor doubled. */
function isClosedQuote(lexeme: string): boolean {
  if (lexeme.startsWith("'")) return lexeme.split("'").length % 2 === 1;
  let escapes = 0;
  while (lexeme.at(-2 - escapes) === '\\') escapes += 1;
  return lexeme.length > 1 && lexeme.endsWith('"') && escapes % 2 === 0;
}

const overLimit = (limit: 'depth' | 'length', where: string): Problem =>
  limit === 'depth'
    ? problem('documents.yaml-too-deep', where, { most: DEEPEST })
    : problem('documents.yaml-too-long', where, {});

/** Reads tokens one by one, so that a bomb is stopped before the composer, which recurses, gets to it. */
class Tokens {
  stopped: 'depth' | 'length' | undefined;
  offset = 0;
  /** Where the first quoted text begins that is not closed. */
  openQuoteAt: number | undefined;
  /** Where the first bracket stands that is not closed, or whose lines are not indented. */
  get openBracketAt(): number | undefined {
    return this.#endedAt ?? this.#openAt[0];
  }
  #endedAt: number | undefined;
  /** Where the brackets began that are still open. */
  #openAt: number[] = [];
  readonly #text: string;
  readonly #counter: LineCounter;

  constructor(text: string, counter: LineCounter) {
    this.#text = text;
    this.#counter = counter;
  }

  *read() {
    this.#counter.addNewLine(0);
    const parser = new Parser(this.#counter.addNewLine);
    let lexemes = 0;
    let escapes = 0;
    for (const lexeme of new Lexer().lex(this.#text)) {
      lexemes += 1;
      if (lexeme === '[' || lexeme === '{') this.#openAt.push(parser.offset);
      if (lexeme === ']' || lexeme === '}') this.#openAt.pop();
      if (lexeme === BRACKETS_END) {
        this.#endedAt ??= this.#openAt[0];
        this.#openAt = [];
      }
      if (/^["']/.test(lexeme) && !isClosedQuote(lexeme)) this.openQuoteAt ??= parser.offset;
      if (lexeme.startsWith('"')) escapes += lexeme.split('\\').length - 1;
      if (escapes <= MOST_ESCAPES) yield* parser.next(lexeme);
      this.offset = parser.offset;
      if (parser.stack.length > DEEPEST) {
        this.stopped = 'depth';
        return;
      }
      if (lexemes > MOST_LEXEMES || escapes > MOST_ESCAPES) {
        this.stopped = 'length';
        return;
      }
    }
    yield* parser.end();
  }
}

function syntaxProblems(document: Document.Parsed, text: string, places: Places, tokens: Tokens): Problem[] {
  const problems: Problem[] = [];
  const lines = new Set<string>();
  for (const slip of slips(document.errors, text, tokens)) {
    const where = places.offset(slip.offset);
    const line = where.slice(0, where.lastIndexOf(':'));
    // one slip makes the reader stumble several times on a line; only the first is reported
    if (lines.has(line)) continue;
    lines.add(line);
    problems.push(problem(slip.code, where, {}));
    if (problems.length === MOST_SYNTAX) break;
  }
  return problems;
}

function checkDocument(file: string, document: Document.Parsed, counter: LineCounter): Parsed {
  const root = document.contents as Node | null;
  const places = new Places(file, root, counter);
  if (document.directives.yaml.explicit || document.warnings.length > 0) {
    const where = places.offset(document.warnings[0]?.pos[0] ?? 0);
    return { problems: [problem('documents.yaml-tag', where, {})] };
  }
  if (root === null || (isScalar(root) && root.value === null)) {
    return { problems: [problem('documents.yaml-no-document', places.offset(0), {})] };
  }
  const walk = new Walk(places);
  walk.node(root, []);
  if (walk.fatal.length > 0) return { problems: [...walk.fatal, ...walk.duplicates] };
  if (!isMap(root)) {
    const form = isSeq(root) ? 'a list' : 'a single value';
    return { problems: [problem('documents.yaml-not-keys', places.at(), { form })] };
  }
  return { tree: { value: document.toJS({ maxAliasCount: 0 }), places }, problems: walk.duplicates };
}

type YamlRefusal =
  | 'documents.yaml-reference'
  | 'documents.yaml-tag'
  | 'documents.yaml-half-character'
  | 'documents.yaml-key-not-text';

class Walk {
  readonly fatal: Problem[] = [];
  readonly duplicates: Problem[] = [];
  readonly #places: Places;

  constructor(places: Places) {
    this.#places = places;
  }

  node(node: Node | null, path: Path): void {
    if (!node) return;
    if (isAlias(node)) {
      this.#refuse('documents.yaml-reference', node, path);
      return;
    }
    if (node.anchor !== undefined) this.#refuse('documents.yaml-reference', node, path);
    if (node.tag !== undefined) this.#refuse('documents.yaml-tag', node, path);
    if (isMap(node)) this.#map(node, path);
    else if (isSeq(node)) {
      for (const [i, item] of node.items.entries()) this.node(item as Node | null, [...path, i]);
    } else if (isScalar(node) && typeof node.value === 'string' && /\p{Cs}/u.test(node.value)) {
      this.#refuse('documents.yaml-half-character', node, path);
    }
  }

  #map(node: Node, path: Path): void {
    if (!isMap(node)) return;
    const seen = new Set<string>();
    for (const pair of node.items) {
      const key = pair.key as Node | null;
      if (!isScalar(key) || typeof key.value !== 'string') {
        this.#refuse('documents.yaml-key-not-text', key ?? node, path);
        continue;
      }
      if (key.anchor !== undefined) this.#refuse('documents.yaml-reference', key, path);
      if (key.tag !== undefined) this.#refuse('documents.yaml-tag', key, path);
      const name = key.value;
      const here = [...path, name];
      if (name === '<<') {
        this.#refuse('documents.yaml-reference', key, path);
        continue;
      }
      if (RESERVED.has(name) || /\p{Cs}/u.test(name)) {
        this.#add(problem('documents.yaml-key-reserved', this.#placeOf(key, path), { key: plainText(name) }));
        continue;
      }
      if (seen.has(name) && this.duplicates.length < MOST_REPORTED) {
        const where = this.#places.offset(key.range?.[0] ?? 0, here);
        this.duplicates.push(problem('documents.yaml-key-twice', where, { key: plainText(name) }));
      }
      seen.add(name);
      this.node(pair.value as Node | null, here);
    }
  }

  #refuse(code: YamlRefusal, node: Node, path: Path): void {
    this.#add(problem(code, this.#placeOf(node, path), {}));
  }

  #placeOf(node: Node, path: Path): string {
    return this.#places.offset(node.range?.[0] ?? 0, path);
  }

  #add(one: Problem): void {
    if (this.fatal.length < MOST_REPORTED) this.fatal.push(one);
  }
}
