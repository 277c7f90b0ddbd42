import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import ts from 'typescript';

const root = path.resolve(import.meta.dirname, '../..');

/** One file of src, parsed; `name` is its path from the root of the project. */
export interface SourceFile {
  name: string;
  tree: ts.SourceFile;
  imports: Import[];
}

/** One import or re-export: what is named, and the file of ours or the package it comes from. */
export interface Import {
  specifier: string;
  /** Path from the root of the project; undefined for a package. */
  file: string | undefined;
  /** Local name and the name it has there. */
  names: { local: string; there: string }[];
  /** Whether the names are handed on under their local name. */
  isReexport: boolean;
}

/** Every TypeScript file of src that people write. */
export function readSources(): SourceFile[] {
  return readdirSync(path.join(root, 'src'), { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.ts') && !name.includes('generated'))
    .map((name) => parse(path.join('src', name)));
}

function parse(name: string): SourceFile {
  const text = readFileSync(path.join(root, name), 'utf8');
  const tree = ts.createSourceFile(name, text, ts.ScriptTarget.Latest, true);
  return { name, tree, imports: importsOf(name, tree) };
}

function importsOf(name: string, tree: ts.SourceFile): Import[] {
  const found: Import[] = [];
  const note = (node: ts.Expression, names: Import['names'], isReexport: boolean) => {
    if (!ts.isStringLiteral(node)) throw new Error(`${name} imports what only running it tells`);
    const specifier = node.text;
    const file = specifier.startsWith('.') ? path.join(path.dirname(name), specifier) : undefined;
    found.push({ specifier, file, names, isReexport });
  };
  walk(tree, (node) => {
    if (ts.isImportDeclaration(node)) note(node.moduleSpecifier, importedNames(node), false);
    if (ts.isExportDeclaration(node) && node.moduleSpecifier !== undefined) {
      note(node.moduleSpecifier, exportedNames(node), true);
    }
    const isDynamic =
      ts.isCallExpression(node) && node.expression.kind === ts.SyntaxKind.ImportKeyword;
    const [argument] = isDynamic ? node.arguments : [];
    if (argument !== undefined) note(argument, [], false);
  });
  return found;
}

function importedNames({ importClause }: ts.ImportDeclaration): Import['names'] {
  const bindings = importClause?.namedBindings;
  if (bindings === undefined || !ts.isNamedImports(bindings)) return [];
  return bindings.elements.map(({ name, propertyName }) => ({
    local: name.text,
    there: (propertyName ?? name).text,
  }));
}

function exportedNames({ exportClause }: ts.ExportDeclaration): Import['names'] {
  if (exportClause === undefined || !ts.isNamedExports(exportClause)) return [];
  return exportClause.elements.map(({ name, propertyName }) => ({
    local: name.text,
    there: (propertyName ?? name).text,
  }));
}

/** Visits a node and everything in it. */
export function walk(node: ts.Node, visit: (node: ts.Node) => void): void {
  visit(node);
  ts.forEachChild(node, (child) => walk(child, visit));
}
