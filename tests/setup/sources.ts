/** The sources as the tests of the architecture see them: files, what they import, what they export, who uses it. */
import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { dirname, join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import ts from 'typescript';
import { once } from './once.ts';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));

/** Every file of a folder, named from the top of the repository. */
export function filesOf(folder: string): string[] {
  const whole = join(ROOT, folder);
  if (!existsSync(whole)) return [];
  if (!statSync(whole).isDirectory()) return [folder];
  return readdirSync(whole).flatMap((name) => filesOf(join(folder, name)));
}

export const isCode = (file: string): boolean => /\.tsx?$/.test(file);
export const textOf = (file: string): string => readFileSync(join(ROOT, file), 'utf8');

/** A path from the top for what is ours, else the name as it stands. */
const resolved = (file: string, name: string): string =>
  name.startsWith('.') ? relative(ROOT, join(ROOT, dirname(file), name.replace(/\?.*$/, ''))) : name;

/**
 * What a file imports or exports from elsewhere, types and late imports included: paths from the top, or package names.
 */
export function importsOf(file: string): string[] {
  return ts.preProcessFile(textOf(file)).importedFiles.map(({ fileName }) => resolved(file, fileName));
}

const sources = new Map<string, ts.SourceFile>();
const trees = new Map<string, ts.Node[]>();

/** A file's syntax tree. */
export function sourceOf(file: string): ts.SourceFile {
  return once(sources, file, () => ts.createSourceFile(file, textOf(file), ts.ScriptTarget.ES2022, true));
}

/** Every node of a file's syntax tree, the file itself first. */
export function nodesOf(file: string): readonly ts.Node[] {
  return once(trees, file, () => {
    const nodes: ts.Node[] = [];
    const visit = (node: ts.Node): void => {
      nodes.push(node);
      ts.forEachChild(node, visit);
    };
    visit(sourceOf(file));
    return nodes;
  });
}

export const CORE = filesOf('shared').filter(isCode);
export const SRC = filesOf('src').filter(isCode);
export const TESTS = filesOf('tests').filter(isCode);

/** Cycles among files that import one another, each once, as arrows. */
export function cyclesOf(files: readonly string[]): string[] {
  const within = new Set(files);
  const state = new Map<string, 'open' | 'done'>();
  const cycles: string[] = [];
  const visit = (file: string, path: readonly string[]): void => {
    if (state.get(file) === 'done') return;
    if (state.get(file) === 'open') {
      cycles.push([...path.slice(path.indexOf(file)), file].join(' → '));
      return;
    }
    state.set(file, 'open');
    for (const next of importsOf(file).filter((name) => within.has(name))) visit(next, [...path, file]);
    state.set(file, 'done');
  };
  for (const file of files) visit(file, []);
  return cycles;
}

/** Values a file exports, by name; a type is part of the signatures that name it, and not counted. */
export function exportsOf(file: string): string[] {
  return sourceOf(file).statements.flatMap((statement) => {
    if (ts.isExportDeclaration(statement)) {
      const { exportClause, isTypeOnly } = statement;
      return exportClause && ts.isNamedExports(exportClause) && !isTypeOnly
        ? exportClause.elements.filter((one) => !one.isTypeOnly).map(({ name }) => name.text)
        : [];
    }
    const modifiers = ts.canHaveModifiers(statement) ? (ts.getModifiers(statement) ?? []) : [];
    if (!modifiers.some(({ kind }) => kind === ts.SyntaxKind.ExportKeyword)) return [];
    if (modifiers.some(({ kind }) => kind === ts.SyntaxKind.DefaultKeyword)) return ['default'];
    if (ts.isVariableStatement(statement))
      return statement.declarationList.declarations.flatMap(({ name }) =>
        ts.isIdentifier(name)
          ? [name.text]
          : name.elements.flatMap((one) => ('name' in one ? [one.name.getText()] : [])),
      );
    return (ts.isFunctionDeclaration(statement) || ts.isClassDeclaration(statement)) && statement.name
      ? [statement.name.text]
      : [];
  });
}

/**
 * Which names of which files are imported by others: `file#name` to those that do; a door's passing on is no use of its
 * own.
 */
export function usesOf(files: readonly string[]): (file: string, name: string) => ReadonlySet<string> {
  const direct = new Map<string, Set<string>>();
  const passed = new Map<string, string[]>();
  const use = (of: string, by: string): unknown => direct.set(of, (direct.get(of) ?? new Set()).add(by));
  for (const file of files) {
    // Only what is imported late stands deeper.
    for (const node of /\bimport\(/.test(textOf(file)) ? nodesOf(file) : sourceOf(file).statements) {
      if (ts.isImportDeclaration(node) && ts.isStringLiteral(node.moduleSpecifier)) {
        const from = resolved(file, node.moduleSpecifier.text);
        const { name, namedBindings } = node.importClause ?? {};
        if (name) use(`${from}#default`, file);
        if (namedBindings && ts.isNamespaceImport(namedBindings)) use(`${from}#*`, file);
        if (namedBindings && ts.isNamedImports(namedBindings))
          for (const one of namedBindings.elements) use(`${from}#${(one.propertyName ?? one.name).text}`, file);
      } else if (ts.isExportDeclaration(node) && node.moduleSpecifier && ts.isStringLiteral(node.moduleSpecifier)) {
        const from = resolved(file, node.moduleSpecifier.text);
        if (node.exportClause && ts.isNamedExports(node.exportClause))
          for (const one of node.exportClause.elements) {
            const of = `${from}#${(one.propertyName ?? one.name).text}`;
            passed.set(of, [...(passed.get(of) ?? []), `${file}#${one.name.text}`]);
          }
        else use(`${from}#*`, file);
      } else if (
        ts.isCallExpression(node) &&
        node.expression.kind === ts.SyntaxKind.ImportKeyword &&
        node.arguments[0] &&
        ts.isStringLiteral(node.arguments[0])
      ) {
        use(`${resolved(file, node.arguments[0].text)}#*`, file);
      }
    }
  }
  const all = (of: string): Set<string> =>
    new Set([
      ...(direct.get(of) ?? []),
      ...(direct.get(of.replace(/#.*/, '#*')) ?? []),
      ...(passed.get(of) ?? []).flatMap((door) => [...all(door)]),
    ]);
  return (file, name) => all(`${file}#${name}`);
}

/** Whether a file uses a name itself, beside declaring it. */
export function usesItself(file: string, name: string): boolean {
  const mentions = nodesOf(file).filter((node) => ts.isIdentifier(node) && node.text === name);
  return mentions.length > 1;
}
