import { readFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import ts from 'typescript';
import { expect, test } from 'vitest';
import { sourceFiles } from './imports.js';

/**
 * Names that say nothing of what they name, or only to whoever chose them: participles and adverbs for functions, and
 * pictures for things that have a term. The comment gives the term.
 */
const OPAQUE = new Set([
  // formatMm, describeError, toUserMessage
  ...['told', 'said', 'shown', 'Told', 'Said', 'Shown'],
  // digits, formatNumber, numeralStyle
  'figure',
  // status, NumberStatus, lifecycle, replay
  ...['standing', 'Standing', 'Standings', 'lives', 'Lived'],
  // validate, clearance, limitingObstacle
  ...['judge', 'Judge', 'Judged', 'judged', 'Tight', 'room'],
  // Baseline, Orientation, FittedText, placeOnSheet
  ...['Lie', 'lie', 'Setting', 'setDown'],
  // PatternInstance, tilePattern
  ...['Laying', 'Laid', 'laid', 'layMark', 'LaidLine', 'layLine'],
  // Operation, MachineSetup, AxisPosition
  ...['Load', 'Run', 'Stand'],
  // CutStrategy, CutParameters
  ...['Way', 'Ways', 'HowToCut', 'how'],
  // MinFeatureFinding
  ...['closeUp', 'closeUps', 'Closing', 'closesUp'],
  // Metric, distanceBetween, exclusiveLock, optimizeOrder
  ...['Far', 'Apart', 'alone', 'shortWay'],
  // MerkleAccumulator, parseEventFast, digest
  ...['Growth', 'glance', 'print'],
  // retry, withRetry
  ...['patience', 'patiently'],
  // importEvents, restore, migrateStore
  ...['bringIn', 'takeOver', 'moveAway'],
  // RegisterDeps, CliContext, ParsedDocuments
  ...['Surroundings', 'Door', 'Shelf', 'Shelves'],
  // IntersectionBudget, Budget, DrawingResolver, LimitExceeded
  ...['Tangle', 'Allowance', 'Work', 'TooMuch'],
  // theme, remarks
  'look',
]);
/** Files of such names. `close-up` is for what is now `min-feature`. */
const OPAQUE_FILE =
  /^(close-up.*|figures|fingerprint|look|moved|paper|patience|quick|standing|wanted|ways)\.ts$/;

/** Every name that a file declares. */
function namesIn(text: string): string[] {
  const names: string[] = [];
  const visit = (node: ts.Node): void => {
    const { name } = node as ts.NamedDeclaration;
    if (name && (ts.isIdentifier(name) || ts.isPrivateIdentifier(name)) && !isFromOutside(node))
      names.push(name.text);
    ts.forEachChild(node, visit);
  };
  visit(ts.createSourceFile('a.ts', text, ts.ScriptTarget.Latest, true));
  return names;
}

/** A member that is read of something, and a name that a package gives. */
const isFromOutside = (node: ts.Node): boolean =>
  ts.isPropertyAccessExpression(node) || ts.isImportSpecifier(node) || ts.isImportClause(node);

test('no name of the house is a riddle', () => {
  const found = sourceFiles().flatMap((file) =>
    namesIn(readFileSync(join('src', file), 'utf8')).flatMap((name) =>
      OPAQUE.has(name.replace(/^#/, '')) ? [`${file}: ${name}`] : [],
    ),
  );
  expect(found).toEqual([]);
  expect(sourceFiles().filter((file) => OPAQUE_FILE.test(basename(file)))).toEqual([]);
});

test('names are found where they are declared, and not in prose', () => {
  expect(namesIn('// told\nconst told = (shown: number) => ({ laid: x.said });')).toEqual([
    'told',
    'shown',
    'laid',
  ]);
  expect(namesIn("class A { #look() { return 'alone'; } }")).toEqual(['A', '#look']);
  expect(OPAQUE_FILE.test('close-up-land.ts')).toBe(true);
});

/** Use cases, their commands, messages, checks beside their schemas, and dialects bear the name of what they are for. */
const MIRRORS =
  /^(app|cli)\/|(^|\/)(messages|phrases)(\.ts$|\/)|^documents\/check\/|^register\/(sqlite|postgres)\//;

test('no two files have one name, unless they mirror each other', () => {
  const files = sourceFiles().filter((file) => !MIRRORS.test(file));
  const names = files.map((file) => basename(file));
  expect(files.filter((file, i) => names.indexOf(basename(file)) !== i)).toEqual([]);
  expect(files.length).toBeGreaterThan(200);
});
