import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import ts from 'typescript';
import { describe, expect, test } from 'vitest';
import { sourceFiles } from './imports.js';

/** Collections that change; a constant one is declared with a type that cannot. */
const COLLECTIONS: readonly string[] = ['Map', 'Set', 'WeakMap', 'WeakSet', 'Array'];
const CONSTANT = /^(Readonly|readonly )/;

/** `file:line` of each variable that a module keeps between two calls: what one caller does would change another's. */
function stateIn(file: string, text: string): string[] {
  const source = ts.createSourceFile(file, text, ts.ScriptTarget.Latest, true);
  const found: string[] = [];
  const report = (node: ts.Node) => {
    found.push(`${file}:${source.getLineAndCharacterOfPosition(node.getStart()).line + 1}`);
  };
  const check = (node: ts.VariableDeclaration | ts.PropertyDeclaration) => {
    const type = node.type?.getText() ?? '';
    if (node.initializer && !CONSTANT.test(type) && changes(node.initializer)) report(node);
  };
  for (const statement of source.statements) {
    if (ts.isVariableStatement(statement)) {
      const { declarationList: list } = statement;
      if (!(list.flags & ts.NodeFlags.Const)) report(statement);
      else list.declarations.forEach(check);
    }
    if (ts.isClassDeclaration(statement))
      for (const member of statement.members)
        if (ts.isPropertyDeclaration(member) && isStatic(member)) {
          if (!member.modifiers!.some((m) => m.kind === ts.SyntaxKind.ReadonlyKeyword)) report(member);
          else check(member);
        }
  }
  return found;
}

const isStatic = ({ modifiers }: ts.PropertyDeclaration): boolean =>
  modifiers?.some((m) => m.kind === ts.SyntaxKind.StaticKeyword) ?? false;

/** Whether an initial value is a collection that can be added to, or keeps one. */
function changes(value: ts.Expression): boolean {
  if (ts.isNewExpression(value)) return COLLECTIONS.includes(value.expression.getText());
  if (ts.isArrayLiteralExpression(value)) return value.elements.length === 0;
  if (ts.isObjectLiteralExpression(value))
    return (
      value.properties.length === 0 ||
      value.properties.some((p) => ts.isPropertyAssignment(p) && changes(p.initializer))
    );
  // A function called on the spot may keep what it made.
  if (ts.isCallExpression(value)) {
    const called = ts.isParenthesizedExpression(value.expression) ? value.expression.expression : undefined;
    return called !== undefined && (ts.isArrowFunction(called) || ts.isFunctionExpression(called));
  }
  return (ts.isAsExpression(value) || ts.isSatisfiesExpression(value)) && changes(value.expression);
}

describe('the house keeps no state of its own', () => {
  test('no module has a variable, nor a collection that changes', () => {
    const found = sourceFiles().flatMap((file) => stateIn(file, readFileSync(join('src', file), 'utf8')));
    expect(found).toEqual([]);
  });

  test('the environment is read at the door alone', () => {
    const found = sourceFiles()
      .filter((file) => !file.startsWith('cli/'))
      .filter((file) =>
        /process\s*\??\.\s*env|process\[|\benv\b.*from 'node:process'/.test(
          readFileSync(join('src', file), 'utf8'),
        ),
      );
    expect(found).toEqual([]);
  });

  test.each([
    ['a variable', 'export let last = 0;'],
    ['an old variable', 'var last = 0;'],
    ['a memory of answers', 'const known = new Map<string, number>();'],
    ['a weak one', 'const known: WeakMap<object, number> = new WeakMap();'],
    ['a list', 'const all: string[] = [];'],
    ['an object to fill', 'const all: Record<string, number> = {};'],
    ['one within an object', 'const state = { known: new Set<string>() };'],
    ['one kept by a function', 'const next = (() => { let n = 0; return () => n++; })();'],
    ['a variable of a class', 'class Pool { static open = 0; }'],
    ['a collection of a class', 'class Pool { static readonly all = new Set<Pool>(); }'],
  ])('%s is found', (_, text) => {
    expect(stateIn('x.ts', text)).toEqual(['x.ts:1']);
  });

  test.each([
    ['constants', "const NAMES: ReadonlySet<string> = new Set(['a']); const NONE: readonly string[] = [];"],
    [
      'what a function makes',
      'export function all() { let n = 0; const known = new Map(); return [n, known]; }',
    ],
    ['what an object holds', 'class Pool { readonly all = new Set<Pool>(); static readonly MOST = 5; }'],
  ])('%s are not', (_, text) => {
    expect(stateIn('x.ts', text)).toEqual([]);
  });
});
