import { sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import ts from 'typescript';

const DIST = fileURLToPath(new URL('../../dist/', import.meta.url));

/** Loads the built rooms so that calls from `app/` are noted; anything else is loaded as it is. */
export async function load(url, context, next) {
  const loaded = await next(url, context);
  if (!url.startsWith('file:') || loaded.format !== 'module') return loaded;
  const path = fileURLToPath(url);
  if (!path.startsWith(DIST)) return loaded;
  const file = path.slice(DIST.length).replaceAll(sep, '/');
  return file.includes('/') ? { ...loaded, source: instrument(file, String(loaded.source)) } : loaded;
}

/**
 * The text of a module in which every function says that it was entered and, in `app/`, every call that it is about to be
 * made: its last argument spreads to nothing, and is worked out after all the others.
 */
function instrument(file, source) {
  const tree = ts.createSourceFile(file, source, ts.ScriptTarget.Latest, true);
  const inserts = [];
  const visit = (node) => {
    if (ts.isFunctionLike(node) && node.body) {
      const entered = `globalThis.trace.entered(${JSON.stringify(file)}, ${JSON.stringify(nameOf(node))})`;
      const { body } = node;
      if (ts.isBlock(body)) inserts.push([body.getStart() + 1, `${entered};`]);
      else inserts.push([body.getStart(), `(${entered}, `], [body.getEnd(), ')']);
    }
    if (file.startsWith('app/') && isPlainCall(node)) {
      const comma = node.arguments.length > 0 && !node.arguments.hasTrailingComma ? ', ' : '';
      const calls = `...globalThis.trace.calls(${JSON.stringify(calleeOf(node))})`;
      inserts.push([node.getStart(), 'globalThis.trace.returned('], [node.getEnd(), ')']);
      inserts.push([node.getEnd() - 1, `${comma}${calls}`]);
    }
    ts.forEachChild(node, visit);
  };
  visit(tree);
  return withInserts(source, inserts);
}

/** What stands in no chain that may break off, for what is wrapped there would be read of nothing. */
const isPlainCall = (node) =>
  (ts.isCallExpression(node) || ts.isNewExpression(node)) &&
  node.arguments !== undefined &&
  !ts.isOptionalChain(node) &&
  node.expression.kind !== ts.SyntaxKind.ImportKeyword &&
  node.expression.kind !== ts.SyntaxKind.SuperKeyword;

const nameOf = (node) =>
  node.name?.getText() ?? (ts.isVariableDeclaration(node.parent) ? node.parent.name.getText() : '');

const calleeOf = ({ expression }) =>
  ts.isPropertyAccessExpression(expression) ? expression.name.getText() : expression.getText();

/** Inserts that meet at one place: what ends there, inner first, then what begins there, outer first. */
function withInserts(source, inserts) {
  const byPlace = new Map();
  for (const [at, text] of inserts) {
    const { ends, starts } = byPlace.get(at) ?? { ends: [], starts: [] };
    byPlace.set(at, { ends, starts });
    if (text.endsWith('(') || text.endsWith(', ') || text.endsWith(';')) starts.push(text);
    else ends.unshift(text);
  }
  let out = '';
  let last = 0;
  for (const [at, { ends, starts }] of [...byPlace].sort(([a], [b]) => a - b)) {
    out += source.slice(last, at) + ends.join('') + starts.join('');
    last = at;
  }
  return out + source.slice(last);
}
