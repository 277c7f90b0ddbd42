import { execFile } from 'node:child_process';
import { generateKeyPairSync } from 'node:crypto';
import { chmod, mkdtemp, readdir, rm, stat, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { promisify } from 'node:util';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { loadPaperKey } from '../../src/proof/load-paper-key.ts';

let folder: string;
let count = 0;

beforeAll(async () => {
  folder = await mkdtemp(path.join(tmpdir(), 'paper-key-'));
});

afterAll(async () => {
  await rm(folder, { recursive: true });
});

function newPlace(): string {
  count += 1;
  return path.join(folder, `${count}`, 'paper-key.pem');
}

async function written(text: string | Buffer, mode = 0o600): Promise<string> {
  count += 1;
  const file = path.join(folder, `${count}.pem`);
  await writeFile(file, text, { mode });
  return file;
}

function pem(pair: { privateKey: import('node:crypto').KeyObject }): string | Buffer {
  return pair.privateKey.export({ type: 'pkcs8', format: 'pem' });
}

describe('the key that signs papers', () => {
  it('is made once, for its owner alone, and is the same ever after', async () => {
    const file = newPlace();
    const first = await loadPaperKey(file);
    const second = await loadPaperKey(file);
    expect([first.isNew, second.isNew]).toEqual([true, false]);
    expect(second.key.publicKey).toEqual(first.key.publicKey);
    expect((await stat(file)).mode & 0o777).toBe(0o600);
    expect([first.warnings, second.warnings]).toEqual([[], []]);
    expect(await readdir(path.dirname(file))).toEqual(['paper-key.pem']);
  });

  it('is one and the same when twenty ask for it at once', async () => {
    const file = newPlace();
    const loaded = await Promise.all(Array.from({ length: 20 }, () => loadPaperKey(file)));
    expect(new Set(loaded.map(({ key }) => key.publicKey.kid)).size).toBe(1);
    expect(loaded.filter(({ isNew }) => isNew)).toHaveLength(1);
    expect(await readdir(path.dirname(file))).toEqual(['paper-key.pem']);
  });

  it('is one and the same when several processes start at once', async () => {
    const file = newPlace();
    const room = new URL('../../src/proof/load-paper-key.ts', import.meta.url).href;
    const script = `import { loadPaperKey } from ${JSON.stringify(room)};
      const { key } = await loadPaperKey(${JSON.stringify(file)});
      console.log(key.publicKey.kid);`;
    const run = () =>
      promisify(execFile)(process.execPath, [
        '--import',
        'tsx',
        '--input-type=module',
        '--eval',
        script,
      ]);
    const answers = await Promise.all([run(), run(), run()]);
    const [kid = '', ...others] = new Set(answers.map(({ stdout }) => stdout.trim()));
    expect(kid).toMatch(/^[\w-]{43}$/);
    expect(others).toEqual([]);
  });

  it('is used but complained of when others can read it', async () => {
    const file = await written(pem(generateKeyPairSync('ed25519')));
    await chmod(file, 0o644);
    const { warnings } = await loadPaperKey(file);
    expect(warnings).toEqual([
      `${file} can be read by others (mode 644). Whoever reads it can sign papers in the company's name: chmod 600 it.`,
    ]);
  });

  const locked = { type: 'pkcs8', format: 'pem', cipher: 'aes-256-cbc', passphrase: 'x' } as const;
  const { privateKey, publicKey } = generateKeyPairSync('ed25519');
  it.each([
    ['nothing', '', 'is empty'],
    ['no key', 'hello', 'does not hold a private key in PKCS#8 PEM form'],
    [
      'the public half',
      publicKey.export({ type: 'spki', format: 'pem' }),
      'does not hold a private key',
    ],
    ['a key cut short', String(pem({ privateKey })).slice(0, 60), 'does not hold a private key'],
    ['a locked key', privateKey.export(locked), 'is locked with a password'],
    [
      'a key of another kind',
      pem(generateKeyPairSync('ec', { namedCurve: 'P-256' })),
      'holds a key of kind ec. Papers are signed with Ed25519',
    ],
    ['a key for exchanging secrets', pem(generateKeyPairSync('x25519')), 'of kind x25519'],
  ])('is refused in plain words where its file holds %s', async (_, text, words) => {
    const file = await written(text);
    await expect(loadPaperKey(file)).rejects.toThrow(words);
    await expect(loadPaperKey(file)).rejects.toThrow(file);
  });
});
