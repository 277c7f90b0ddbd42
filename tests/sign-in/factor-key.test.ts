import { chmod, mkdtemp, readdir, readFile, rm, stat, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { loadFactorKey } from '../../src/sign-in/index.ts';

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(path.join(tmpdir(), 'factor-key-'));
});
afterAll(() => rm(folder, { recursive: true }));

describe('the key that seals second factors', () => {
  it('is made once, for its owner alone, and is one and the same when twenty ask at once', async () => {
    const file = path.join(folder, 'new', 'second-factor.key');
    const loaded = await Promise.all(Array.from({ length: 20 }, () => loadFactorKey(file)));
    expect(new Set(loaded.map(({ key }) => key.export().toString('hex'))).size).toBe(1);
    expect(loaded.filter(({ isNew }) => isNew)).toHaveLength(1);
    expect(loaded.flatMap(({ warnings }) => warnings)).toEqual([]);
    expect((await stat(file)).mode & 0o777).toBe(0o600);
    expect(await readdir(path.dirname(file))).toEqual(['second-factor.key']);
    const kept = Buffer.from((await readFile(file, 'utf8')).trim(), 'base64');
    expect(loaded[0]?.key.export()).toEqual(kept);
    expect(kept).toHaveLength(32);
  });

  it('is used but complained of when others can read it', async () => {
    const file = path.join(folder, 'open.key');
    await writeFile(file, `${Buffer.alloc(32, 7).toString('base64')}\r\n`);
    await chmod(file, 0o640);
    expect((await loadFactorKey(file)).warnings).toEqual([
      `${file} can be read by others (mode 640). Whoever reads it and the database has the codes of everybody: chmod 600 it.`,
    ]);
  });

  it.each([
    ['nothing', ''],
    ['something else', 'hello\n'],
    ['a key cut short', Buffer.alloc(31).toString('base64')],
    ['a key with something behind it', `${Buffer.alloc(32).toString('base64')}\nmore`],
  ])('is refused in plain words where its file holds %s', async (_, text) => {
    const file = path.join(folder, 'bad.key');
    await writeFile(file, text);
    await expect(loadFactorKey(file)).rejects.toThrow(`${file} does not hold a key`);
  });
});
