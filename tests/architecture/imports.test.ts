import ts from 'typescript';
import { describe, expect, it } from 'vitest';
import { type Import, readSources, type SourceFile, walk } from './read-sources.ts';

const sources = readSources();
const pureFolders = [
  'trade',
  'pricing',
  'lifecycles',
  'repair-or-replace',
  'consumer-law',
  'billing',
  'phone-script',
  'priority',
  'planning',
  'auditing',
];
/** Which of the others a pure folder may build on. */
const standsOn: Record<string, readonly string[]> = {
  'repair-or-replace': ['trade', 'pricing'],
  billing: ['pricing'],
  'phone-script': ['trade'],
  priority: ['trade'],
  auditing: ['trade', 'pricing', 'billing'],
};

/** The first folder below src; the files beside the folders are the program itself. */
function folderOf(name: string): string {
  const [, folder = '', rest] = name.split('/');
  return rest === undefined ? 'program' : folder;
}

const folders = [...new Set(sources.map(({ name }) => folderOf(name)))];
const rooms = folders.filter((folder) => !['program', 'platform', ...pureFolders].includes(folder));
const pureFiles = sources.filter(({ name }) => pureFolders.includes(folderOf(name)));

/** Every import with the file it stands in, as a line to read. */
function importsFrom(files: readonly SourceFile[]) {
  return files.flatMap(({ name, imports }) => imports.map((each) => ({ name, ...each })));
}

function lines(found: readonly (Import & { name: string })[]): string[] {
  return found.map(({ name, specifier }) => `${name} imports ${specifier}`);
}

describe('data flows one way', () => {
  it('and this looks at the whole program', () => {
    expect(sources.length).toBeGreaterThan(150);
    expect(folders).toEqual(expect.arrayContaining([...pureFolders, 'platform', 'program']));
    expect(rooms).toEqual(expect.arrayContaining(['tickets', 'visits', 'evidence', 'quotes']));
  });

  it('the pure core imports itself, folder by folder, and zod; one file the library of moist air, one room the trade and the pricing', () => {
    const strangers = importsFrom(pureFiles).filter(({ name, file, specifier }) => {
      if (file !== undefined) {
        const own = folderOf(name);
        return ![own, ...(standsOn[own] ?? [])].includes(folderOf(file));
      }
      const isMoistAir = name === 'src/trade/air/moist-air.ts' && specifier === 'psychrolib';
      return specifier !== 'zod' && !isMoistAir;
    });
    expect(lines(strangers)).toEqual([]);
  });

  it('the platform knows no room and no trade word: it imports itself and the lifecycles', () => {
    const platform = sources.filter(({ name }) => folderOf(name) === 'platform');
    const strangers = importsFrom(platform).filter(
      ({ file }) => file !== undefined && !['platform', 'lifecycles'].includes(folderOf(file)),
    );
    expect(lines(strangers)).toEqual([]);
  });

  it('a room, and the core, is entered by its index alone', () => {
    const intruders = importsFrom(sources).filter(({ name, file }) => {
      if (file === undefined) return false;
      const there = folderOf(file);
      const isOpen = there === folderOf(name) || there === 'platform' || there === 'program';
      return !isOpen && file !== `src/${there}/index.ts`;
    });
    expect(lines(intruders)).toEqual([]);
  });

  it('nothing but the program itself knows the program', () => {
    const upward = importsFrom(sources).filter(
      ({ name, file }) =>
        file !== undefined && folderOf(file) === 'program' && folderOf(name) !== 'program',
    );
    expect(lines(upward)).toEqual([]);
  });

  it('what ships imports neither tests nor invented data', () => {
    const outside = importsFrom(sources).filter(
      ({ file }) => file !== undefined && !file.startsWith('src/'),
    );
    expect(lines(outside)).toEqual([]);
  });

  it('no room leads back to itself through others', () => {
    const leadsTo = new Map(
      folders.map((folder) => {
        const own = sources.filter(({ name }) => folderOf(name) === folder);
        const reached = importsFrom(own).flatMap(({ file }) => (file ? [folderOf(file)] : []));
        return [folder, new Set(reached.filter((each) => each !== folder))] as const;
      }),
    );
    expect(cyclesIn(leadsTo)).toEqual([]);
  });
});

// From what knows nothing to what knows everything; the files beside these folders come last.
const tradeFloors = [
  ['words'],
  ['uncertainty'],
  ['electrical', 'air', 'refrigerant'],
  ['facts'],
  ['verdicts'],
  ['faults'],
  ['signs'],
  ['next'],
  ['spanish'],
];

it('what the trade knows is built in floors, and no floor imports one above it', () => {
  const floorOf = (file: string) =>
    tradeFloors.findIndex((floor) => floor.includes(file.split('/')[2] ?? ''));
  const upward = importsFrom(sources.filter(({ name }) => folderOf(name) === 'trade')).filter(
    ({ name, file }) => {
      if (file === undefined || floorOf(name) === -1) return false;
      // The shapes of evidence and the checks of single figures stand beside the floors.
      return floorOf(file) > floorOf(name);
    },
  );
  expect(lines(upward)).toEqual([]);
});

function cyclesIn(leadsTo: ReadonlyMap<string, ReadonlySet<string>>): string[] {
  const cycles: string[] = [];
  const done = new Set<string>();
  const visit = (room: string, trail: readonly string[]): void => {
    if (trail.includes(room)) {
      cycles.push([...trail.slice(trail.indexOf(room)), room].join(' -> '));
      return;
    }
    if (done.has(room)) return;
    for (const next of leadsTo.get(room) ?? []) visit(next, [...trail, room]);
    done.add(room);
  };
  for (const room of leadsTo.keys()) visit(room, []);
  return cycles;
}

describe('the pure core', () => {
  it('neither waits, nor asks the time, chance or the process', () => {
    const impure = pureFiles.flatMap(({ name, tree }) => {
      const found: string[] = [];
      walk(tree, (node) => {
        const what = impurity(node);
        if (what !== undefined) found.push(`${name} uses ${what}`);
      });
      return found;
    });
    expect(impure).toEqual([]);
  });

  it.each([
    ['export async function f() {}', 'async'],
    ['const x = async () => 1;', 'async'],
    ['class A { async m() {} }', 'async'],
    ['const now = Date.now();', 'Date.now'],
    ['const now = new Date();', 'new Date()'],
    ['const die = Math.random();', 'Math.random'],
    ['const home = process.env;', 'process.env'],
    ['console.log(1);', 'console.log'],
    ['setTimeout(f, 1);', 'setTimeout'],
    ['const id = crypto.randomUUID();', 'crypto.randomUUID'],
    ["const day = new Date('2026-07-14T00:00:00Z');", undefined],
    ['const floor = Math.floor(1.5);', undefined],
  ])('would be caught at: %s', (text, expected) => {
    const found: string[] = [];
    walk(ts.createSourceFile('x.ts', text, ts.ScriptTarget.Latest, true), (node) => {
      const what = impurity(node);
      if (what !== undefined) found.push(what);
    });
    expect(found).toEqual(expected === undefined ? [] : [expected]);
  });
});

const impureGlobals = /^(process|console|crypto|globalThis|performance)\./;
const impureCalls = new Set([
  'setTimeout',
  'setInterval',
  'setImmediate',
  'queueMicrotask',
  'fetch',
]);

/** What of the outside world a piece of syntax reaches for. */
function impurity(node: ts.Node): string | undefined {
  if (node.kind === ts.SyntaxKind.AsyncKeyword) return 'async';
  if (ts.isPropertyAccessExpression(node)) {
    const text = node.getText();
    const isImpure = ['Date.now', 'Math.random'].includes(text) || impureGlobals.test(text);
    return isImpure ? text : undefined;
  }
  if (ts.isNewExpression(node) && node.getText() === 'new Date()') return 'new Date()';
  if (ts.isCallExpression(node) && impureCalls.has(node.expression.getText())) {
    return node.expression.getText();
  }
  return undefined;
}
