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
import { type Problem, problem } from '../problem.js';
import { type Path, Places } from './place.js';
import { quoted } from './quote.js';
import { slips } from './syntax.js';

/** A workshop's documents nest five deep; beyond this the text is an accident or an attack. */
const DEEPEST = 40;
/** Words and signs. The longest outlines of a pen come to some thousands; reading a million takes many seconds. */
const MOST_LEXEMES = 100_000;
/** Backslashes in quoted text; each wrong one costs the reader an error object. */
const MOST_ESCAPES = 10_000;
const MOST_SYNTAX = 5;
/** More of one kind in a file than anybody reads. */
const MOST_TOLD = 100;

/** Names every object already answers to; as keys they would be taken for something else. */
const RESERVED = new Set(['__proto__', 'constructor', 'prototype']);

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
      return { problems: [problem(where, 'A second document begins here.', 'Keep one document in a file.')] };
    }
    document = next as Document.Parsed;
  }
  if (tokens.stopped) return { problems: [problem(places.offset(tokens.offset), ...tokens.stopped)] };
  if (!document)
    return { problems: [problem(places.offset(0), 'The file holds no document.', 'Write one.')] };
  if (document.errors.length > 0) return { problems: syntaxProblems(document, text, places, tokens) };
  return checked(file, document, counter);
}

/** Reads tokens one by one, so that a bomb is stopped before the composer, which recurses, gets to it. */
class Tokens {
  stopped: [what: string, cure: string] | undefined;
  offset = 0;
  /** Where the last quoted text began: the one to blame if a quote is missing at the end. */
  quoteAt = 0;
  /** Where the brackets began that are still open. */
  readonly openAt: number[] = [];
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
      if (lexeme === '[' || lexeme === '{') this.openAt.push(parser.offset);
      if (lexeme === ']' || lexeme === '}') this.openAt.pop();
      if (lexeme.startsWith('"') || lexeme.startsWith("'")) this.quoteAt = parser.offset;
      if (lexeme.startsWith('"')) escapes += lexeme.split('\\').length - 1;
      if (escapes <= MOST_ESCAPES) yield* parser.next(lexeme);
      this.offset = parser.offset;
      if (parser.stack.length > DEEPEST) {
        this.stopped = [
          `This is nested more than ${DEEPEST} deep.`,
          'Look for brackets or dashes that are not closed.',
        ];
        return;
      }
      if (lexemes > MOST_LEXEMES || escapes > MOST_ESCAPES) {
        this.stopped = [
          'The file goes on past any document of a workshop.',
          'Check that it is the file you meant, and thin out long outlines.',
        ];
        return;
      }
    }
    yield* parser.end();
  }
}

function syntaxProblems(document: Document.Parsed, text: string, places: Places, tokens: Tokens): Problem[] {
  const problems: Problem[] = [];
  const lines = new Set<string>();
  for (const slip of slips(document.errors, text, tokens.quoteAt, tokens.openAt[0])) {
    const where = places.offset(slip.offset);
    const line = where.slice(0, where.lastIndexOf(':'));
    // one slip makes the reader stumble several times on a line; the first stumble is the telling one
    if (lines.has(line)) continue;
    lines.add(line);
    problems.push(problem(where, slip.what, slip.cure));
    if (problems.length === MOST_SYNTAX) break;
  }
  return problems;
}

function checked(file: string, document: Document.Parsed, counter: LineCounter): Parsed {
  const root = document.contents as Node | null;
  const places = new Places(file, root, counter);
  if (document.directives.yaml.explicit || document.warnings.length > 0) {
    const where = places.offset(document.warnings[0]?.pos[0] ?? 0);
    return {
      problems: [problem(where, 'Directives and tags are not taken.', 'Remove the `%` line or the `!` tag.')],
    };
  }
  if (root === null || (isScalar(root) && root.value === null)) {
    return {
      problems: [problem(places.offset(0), 'The file holds no document.', 'Write one or remove the file.')],
    };
  }
  const walk = new Walk(places);
  walk.node(root, []);
  if (walk.fatal.length > 0) return { problems: [...walk.fatal, ...walk.duplicates] };
  if (!isMap(root)) {
    const what = `The document is ${isSeq(root) ? 'a list' : 'a single value'}, keys with values are wanted.`;
    return { problems: [problem(places.at(), what, 'Begin with `kind:`.')] };
  }
  return { tree: { value: document.toJS({ maxAliasCount: 0 }), places }, problems: walk.duplicates };
}

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
      this.#refuse(node, path, 'This refers to text elsewhere.', 'Write it out.');
      return;
    }
    if (node.anchor !== undefined) {
      this.#refuse(
        node,
        path,
        `The anchor ${quoted(`&${node.anchor}`)} is not taken.`,
        'Remove it and write out what refers to it.',
      );
    }
    if (node.tag !== undefined) {
      this.#refuse(node, path, `The tag ${quoted(node.tag)} is not taken.`, 'Remove it.');
    }
    if (isMap(node)) this.#map(node, path);
    else if (isSeq(node)) {
      for (const [i, item] of node.items.entries()) this.node(item as Node | null, [...path, i]);
    } else if (isScalar(node) && typeof node.value === 'string' && /\p{Cs}/u.test(node.value)) {
      this.#refuse(node, path, 'This text holds half of a character.', 'Write the whole character.');
    }
  }

  #map(node: Node, path: Path): void {
    if (!isMap(node)) return;
    const seen = new Set<string>();
    for (const pair of node.items) {
      const key = pair.key as Node | null;
      if (!isScalar(key) || typeof key.value !== 'string') {
        this.#refuse(
          key ?? node,
          path,
          'This key is not text.',
          'Give the key a name, in quotes if it is a number.',
        );
        continue;
      }
      if (key.anchor !== undefined || key.tag !== undefined) {
        this.#refuse(key, path, 'A key bears an anchor or a tag.', 'Remove it.');
      }
      const name = key.value;
      const here = [...path, name];
      if (name === '<<') {
        this.#refuse(key, path, 'Merging another mapping with `<<` is not taken.', 'Write the keys out.');
        continue;
      }
      if (RESERVED.has(name) || /\p{Cs}/u.test(name)) {
        this.#refuse(
          key,
          path,
          `${quoted(name)} cannot be used as a key.`,
          'Remove it or choose another name.',
        );
        continue;
      }
      if (seen.has(name) && this.duplicates.length < MOST_TOLD) {
        const where = this.#places.offset(key.range?.[0] ?? 0, here);
        this.duplicates.push(problem(where, `The key ${quoted(name)} is given twice.`, 'Keep one of them.'));
      }
      seen.add(name);
      this.node(pair.value as Node | null, here);
    }
  }

  #refuse(node: Node, path: Path, what: string, cure: string): void {
    if (this.fatal.length >= MOST_TOLD) return;
    this.fatal.push(problem(this.#places.offset(node.range?.[0] ?? 0, path), what, cure));
  }
}
