import { mkdtemp, readdir, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { createLocalJWKSet, flattenedVerify } from 'jose';
import { describe, expect, it } from 'vitest';
import { toBase64Url } from '../../src/proof/base64url.ts';
import { keySetText, readKeySet, writeKeySet } from '../../src/proof/key-set.ts';
import { signDetached } from '../../src/proof/sign-detached.ts';
import { key, keys } from './sealed-papers.ts';

describe('the published keys', () => {
  it('are found by their names in any program that reads JWK sets', async () => {
    const payload = Buffer.from('a paper');
    const [header = '', , signature = ''] = signDetached(payload, key).split('.');
    const jws = { protected: header, payload: toBase64Url(payload), signature };
    const set = createLocalJWKSet(JSON.parse(keySetText(keys)));
    await expect(flattenedVerify(jws, set)).resolves.toHaveProperty('payload');
  });

  it('never hold the private half', () => {
    expect(keySetText(keys)).not.toContain('"d"');
    const withSecret = JSON.stringify({ keys: [{ ...key.publicKey, d: 'secret' }] });
    expect(readKeySet(withSecret)).toEqual(keys);
  });

  it('come back as they were written, and keys of other kinds are passed over', () => {
    const text = JSON.stringify({ keys: [{ kty: 'RSA', n: 'x', e: 'AQAB' }, key.publicKey] });
    expect(readKeySet(text)).toEqual(keys);
    expect(readKeySet(keySetText(keys))).toEqual(keys);
  });

  it.each([
    ['no JSON', 'hello', 'not a set of keys'],
    ['no set', '[]', 'not a set of keys'],
    [
      'a key under a borrowed name',
      JSON.stringify({ keys: [{ ...key.publicKey, kid: 'ours' }] }),
      'The key "ours" is another key.',
    ],
  ])('are refused where they are %s', (_, text, words) => {
    expect(() => readKeySet(text)).toThrow(words);
  });

  it('are written whole over what was there', async () => {
    const folder = await mkdtemp(path.join(tmpdir(), 'key-set-'));
    const file = path.join(folder, 'paper-keys.json');
    await writeKeySet(file, { keys: [] });
    await writeKeySet(file, keys);
    expect(readKeySet(await readFile(file, 'utf8'))).toEqual(keys);
    expect(await readdir(folder)).toEqual(['paper-keys.json']);
    await rm(folder, { recursive: true });
  });
});
