import ts from 'typescript';
import { readSources, type SourceFile, walk } from '../architecture/read-sources.ts';

/** What the source says about problems. */
export interface Reachable {
  /** Slugs that the handler of a route can come to throw, by operationId. */
  byOperation: Map<string, Set<string>>;
  /** Every slug thrown anywhere in src. */
  thrown: Set<string>;
}

/**
 * Follows every route's handler through the functions it names, as far as they go, and collects
 * the problems made there. A name counts wherever it stands, so this finds rather too much than too
 * little; what a catch turns into another problem is found all the same.
 */
export function reachableProblems(): Reachable {
  const sources = readSources();
  const files = new Map(sources.map((source) => [source.name, source]));
  const declarations = new Map<string, Declaration>();
  const operations: { operationId: string; at: Declaration }[] = [];
  for (const source of sources) {
    for (const [name, node] of topLevel(source)) {
      declarations.set(`${source.name}#${name}`, describe(source, node, files));
    }
    if (source.name.endsWith('routes.ts')) operations.push(...operationsIn(source, files));
  }
  const byOperation = new Map(
    operations.map(({ operationId, at }) => [operationId, slugsFrom(at, declarations)]),
  );
  const thrown = new Set([...declarations.values()].flatMap(({ slugs }) => [...slugs]));
  return { byOperation, thrown };
}

interface Declaration {
  slugs: Set<string>;
  names: Set<string>;
}

function* topLevel({ tree }: SourceFile): Generator<[string, ts.Node]> {
  for (const statement of tree.statements) {
    const isNamed = ts.isFunctionDeclaration(statement) || ts.isClassDeclaration(statement);
    if (isNamed && statement.name !== undefined) yield [statement.name.text, statement];
    if (ts.isVariableStatement(statement)) {
      for (const each of statement.declarationList.declarations) {
        if (ts.isIdentifier(each.name)) yield [each.name.text, each];
      }
    }
  }
}

function describe(source: SourceFile, node: ts.Node, files: Map<string, SourceFile>): Declaration {
  const slugs = new Set<string>();
  const names = new Set<string>();
  const own = new Set([...topLevel(source)].map(([name]) => name));
  walk(node, (each) => {
    if (ts.isNewExpression(each) && each.expression.getText() === 'ProblemError') {
      for (const slug of literalsOf(each.arguments?.[0])) slugs.add(slug);
    }
    if (!ts.isIdentifier(each) || isMerelyAName(each)) {
      // The one way a handler gets at If-Match is its context.
      if (ts.isIdentifier(each) && each.text === 'mustMatch') names.add(MUST_MATCH);
      return;
    }
    if (own.has(each.text)) names.add(`${source.name}#${each.text}`);
    const target = resolve(source, each.text, files);
    if (target !== undefined) names.add(target);
  });
  return { slugs, names };
}

const MUST_MATCH = 'src/platform/http/etag.ts#requireMatch';

function literalsOf(node: ts.Expression | undefined): string[] {
  if (node === undefined) return [];
  if (ts.isStringLiteral(node)) return [node.text];
  if (ts.isConditionalExpression(node)) {
    return [...literalsOf(node.whenTrue), ...literalsOf(node.whenFalse)];
  }
  // A helper that passes its slug on is read where it is called, so only literals are allowed.
  throw new Error(`"${node.getText()}" hides which problem it is`);
}

/** The name of a member or of a type: it says nothing about which function is meant. */
function isMerelyAName(node: ts.Identifier): boolean {
  const { parent } = node;
  return (
    (ts.isPropertyAccessExpression(parent) && parent.name === node) ||
    (ts.isPropertyAssignment(parent) && parent.name === node) ||
    ts.isTypeReferenceNode(parent)
  );
}

function resolve(
  source: SourceFile,
  local: string,
  files: Map<string, SourceFile>,
): string | undefined {
  for (const { file, names } of source.imports) {
    const there = names.find((name) => name.local === local)?.there;
    if (there === undefined || file === undefined) continue;
    const next = files.get(file);
    if (next === undefined) continue;
    const isDeclared = [...topLevel(next)].some(([name]) => name === there);
    return isDeclared ? `${file}#${there}` : resolve(next, there, files);
  }
  return undefined;
}

function operationsIn(source: SourceFile, files: Map<string, SourceFile>) {
  const found: { operationId: string; at: Declaration }[] = [];
  walk(source.tree, (node) => {
    if (!ts.isCallExpression(node)) return;
    const [definition] = node.arguments;
    if (definition === undefined || !ts.isObjectLiteralExpression(definition)) return;
    for (const member of definition.properties) {
      const isId = ts.isPropertyAssignment(member) && member.name.getText() === 'operationId';
      if (!isId || !ts.isStringLiteral(member.initializer)) continue;
      found.push({ operationId: member.initializer.text, at: describe(source, node, files) });
    }
  });
  return found;
}

function slugsFrom(start: Declaration, declarations: Map<string, Declaration>): Set<string> {
  const slugs = new Set(start.slugs);
  const seen = new Set<string>();
  const waiting = [...start.names];
  for (let name = waiting.pop(); name !== undefined; name = waiting.pop()) {
    if (seen.has(name)) continue;
    seen.add(name);
    const declaration = declarations.get(name);
    for (const slug of declaration?.slugs ?? []) slugs.add(slug);
    waiting.push(...(declaration?.names ?? []));
  }
  return slugs;
}
