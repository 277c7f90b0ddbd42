import { spawn } from 'node:child_process';
import { once } from 'node:events';
import {
  chmod,
  chown,
  cp,
  mkdir,
  mkdtemp,
  readdir,
  readFile,
  readlink,
  rm,
  writeFile,
} from 'node:fs/promises';
import path from 'node:path';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';
import pg from 'pg';
import { onTestFinished } from 'vitest';
import { findBinaries } from '../../../src/platform/database/embedded/find-binaries.ts';
import { hydrateSymlinks } from '../../../src/platform/database/embedded/hydrate-symlinks.ts';
import { readCommand } from '../../../src/platform/database/embedded/read-command.ts';

/** An account that a starter can run under; `ids` undefined means: the one that runs the tests. */
export type Identity = { name: string; ids: { uid: number; gid: number } | undefined };

export const weAreRoot = process.getuid?.() === 0;

/** Every kind of account that this run can take on: always the current one, and for root also an
 * ordinary one. */
export const IDENTITIES: readonly Identity[] = [
  { name: weAreRoot ? 'root' : 'an ordinary account', ids: undefined },
  ...(weAreRoot ? [{ name: 'an ordinary account', ids: await idsOfDaemon() }] : []),
];

/** Every Unix has this account, and it is not the one that the launcher itself chooses. */
async function idsOfDaemon(): Promise<{ uid: number; gid: number }> {
  const lines = (await readFile('/etc/passwd', 'utf8')).split('\n');
  const [, , uid, gid] = lines.find((line) => line.startsWith('daemon:'))?.split(':') ?? [];
  return { uid: Number(uid), gid: Number(gid) };
}

/** A directory that belongs to the identity and is gone after the test, with the server's distant
 * room if there is one. */
export async function tempDir(ids?: Identity['ids'], mode = 0o755): Promise<string> {
  const dir = await makeTempDir(ids, mode);
  onTestFinished(() => removeTempDir(dir));
  return dir;
}

export async function makeTempDir(ids?: Identity['ids'], mode = 0o755): Promise<string> {
  const dir = await mkdtemp('/tmp/evenhand-test-');
  await chmod(dir, mode);
  if (ids !== undefined) await chown(dir, ids.uid, ids.gid);
  return dir;
}

export async function removeTempDir(dir: string): Promise<void> {
  for (const name of await readdir(dir)) {
    const target = await readlink(path.join(dir, name, 'postgres')).catch(() => '');
    if (target.startsWith('/var/tmp/evenhand-')) await remove(path.dirname(target));
  }
  await remove(dir);
}

async function remove(dir: string): Promise<void> {
  await rm(dir, { recursive: true, force: true, maxRetries: 20, retryDelay: 50 });
}

/**
 * Copies the launcher, compiled, and the Postgres programs into `dir`, as a checkout of its own:
 * the real one may be closed to the other account. 'bare' is how an install without scripts leaves
 * it, 'linked' how it is after the first start by somebody who may write to it.
 */
export async function makeCheckout(dir: string, links: 'linked' | 'bare'): Promise<string> {
  const sources = path.join(PROJECT_DIR, 'src/platform/database/embedded');
  for (const name of await readdir(sources)) {
    if (name.endsWith('.ts')) await compile(`src/platform/database/embedded/${name}`, dir);
  }
  await compile('tests/platform/embedded/starter.ts', dir);
  await writeFile(path.join(dir, 'package.json'), '{ "type": "module" }');
  const { nativeDir } = await findBinaries();
  const packageDir = path.dirname(nativeDir);
  const packageName = path.relative(path.dirname(path.dirname(packageDir)), packageDir);
  const copy = path.join(dir, 'node_modules', packageName);
  // The links are ours to make or to leave out, whatever the real checkout has.
  const filter = (file: string) => !file.endsWith('.a') && !isLibraryLink(file);
  await cp(packageDir, copy, { recursive: true, filter });
  if (links === 'linked') await hydrateSymlinks(path.join(copy, 'native'));
  return dir;
}

const PROJECT_DIR = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '../../..');

/** The links that an install script would have made; a fresh install here has none of them. */
function isLibraryLink(file: string): boolean {
  return /lib(icu\w+|pq|ecpg\w*|pgtypes)\.so(\.\d+)?$/.test(file);
}

async function compile(file: string, dir: string): Promise<void> {
  const source = await readFile(path.join(PROJECT_DIR, file), 'utf8');
  // Loaded only here: it is large, and half of the test files need no checkout.
  const { default: ts } = await import('typescript');
  const { outputText } = ts.transpileModule(source, {
    compilerOptions: {
      module: ts.ModuleKind.ESNext,
      target: ts.ScriptTarget.ES2023,
      rewriteRelativeImportExtensions: true,
      verbatimModuleSyntax: true,
    },
  });
  const target = path.join(dir, file.replace(/\.ts$/, '.js'));
  await mkdir(path.dirname(target), { recursive: true });
  await writeFile(target, outputText);
}

export type Answer =
  | { kind: 'started'; url: string; logLines: string[] }
  | { kind: 'refused'; code: string; message: string };

export type Starter = {
  pid: number;
  answer: Promise<Answer>;
  /** Ends it politely: it stops its server first. */
  end: () => Promise<void>;
  /** Ends it as a crash or an impatient user would. */
  kill: () => Promise<void>;
  exited: Promise<unknown>;
};

type StarterOptions = { checkout: string; dataDir: string; ids?: Identity['ids']; manner?: string };

/** Runs a starter process of a checkout. */
export function runStarter({ checkout, dataDir, ids, manner = 'stay' }: StarterOptions): Starter {
  const script = path.join(checkout, 'tests/platform/embedded/starter.js');
  const account = ids === undefined ? [] : [`${ids.uid}`, `${ids.gid}`];
  const child = spawn(process.execPath, [script, dataDir, manner, ...account], {
    cwd: checkout,
    stdio: ['pipe', 'pipe', 'inherit'],
  });
  const exited = once(child, 'exit');
  const kill = async () => {
    child.kill('SIGKILL');
    await exited;
  };
  kills.push(kill);
  return {
    pid: child.pid ?? 0,
    answer: readAnswer(child.stdout),
    exited,
    kill,
    end: async () => {
      child.stdin.end();
      await exited;
    },
  };
}

const kills: (() => Promise<void>)[] = [];

/** Ends what a failed test has left running; for afterEach. */
export async function killStarters(): Promise<void> {
  await Promise.all(kills.splice(0).map((kill) => kill()));
}

async function readAnswer(stdout: NodeJS.ReadableStream): Promise<Answer> {
  for await (const line of createInterface({ input: stdout })) return JSON.parse(line) as Answer;
  throw new Error('The starter ended without an answer.');
}

/** Runs a starter that is expected to serve. */
export async function startedBy(options: StarterOptions) {
  const starter = runStarter(options);
  const answer = await starter.answer;
  if (answer.kind !== 'started') throw new Error(answer.message);
  return { ...starter, ...answer };
}

/** Runs one statement on a connection of its own. */
export async function query(url: string, sql: string): Promise<Record<string, unknown>[]> {
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  try {
    return (await client.query(sql)).rows;
  } finally {
    await client.end();
  }
}

/** The ids of every process of a running server: the server, its helpers and its sessions. */
export async function serverPids(url: string): Promise<number[]> {
  const [server] = await query(
    url,
    "SELECT split_part(pg_read_file('postmaster.pid'), E'\\n', 1)::int AS pid",
  );
  const rows = await query(url, 'SELECT pid FROM pg_stat_activity WHERE pid <> pg_backend_pid()');
  return [server, ...rows].map((row) => Number(row?.['pid']));
}

/** Those of the processes that still run; an ended one that nobody has collected does not. */
export async function running(pids: readonly number[]): Promise<number[]> {
  const commands = await Promise.all(pids.map(readCommand));
  return pids.filter((_, index) => commands[index] !== undefined);
}
