import { createPrivateKey, sign } from 'node:crypto';
import fc from 'fast-check';
import { CompactSign, calculateJwkThumbprint, flattenedVerify, importJWK } from 'jose';
import { describe, expect, it } from 'vitest';
import { fromBase64Url, toBase64Url } from '../../src/proof/base64url.ts';
import { keyThumbprint } from '../../src/proof/public-key.ts';
import { signDetached, signingInput } from '../../src/proof/sign-detached.ts';
import { verifyDetached } from '../../src/proof/verify-detached.ts';
import { key, keys, RFC_8037_KEY } from './sealed-papers.ts';

const payload = new TextEncoder().encode('Example of Ed25519 signing');
const HEADER = { alg: 'EdDSA', kid: key.publicKey.kid, typ: 'evenhand-paper' };

describe('the vectors of RFC 8037, appendix A', () => {
  it('A.2: the public half of the key is the published one', () => {
    expect(key.publicKey.x).toBe(RFC_8037_KEY.x);
  });

  it('A.3: the key goes by its thumbprint (RFC 7638), as another library counts it too', async () => {
    expect(keyThumbprint(RFC_8037_KEY.x)).toBe('kPrK_qmxVWaYVA9wwBF6Iuo3vVzz7TxHCTwXBygrS4k');
    expect(key.publicKey.kid).toBe(await calculateJwkThumbprint(RFC_8037_KEY));
  });

  it('A.4: what is signed, and the signature over it, are the published ones', () => {
    const input = signingInput('eyJhbGciOiJFZERTQSJ9', payload);
    expect(Buffer.from(input).toString()).toBe(
      'eyJhbGciOiJFZERTQSJ9.RXhhbXBsZSBvZiBFZDI1NTE5IHNpZ25pbmc',
    );
    const privateKey = createPrivateKey({ key: RFC_8037_KEY, format: 'jwk' });
    expect(toBase64Url(sign(null, input, privateKey))).toBe(
      'hgyY0il_MGCjP0JzlnLWG1PPOt7-09PGcvMg3AIbQR6dWbhijcNR4ki4iylGjg5BhVsPt9g7sVvpAr_MuM0KAg',
    );
  });
});

describe('any program that knows JWS can check our papers', () => {
  it('another library accepts our signature, with the content put back (RFC 7515, appendix F)', async () => {
    const [header = '', content, signature = ''] = signDetached(payload, key).split('.');
    expect(content).toBe('');
    const jws = { protected: header, payload: toBase64Url(payload), signature };
    const published = await importJWK(key.publicKey);
    const { protectedHeader } = await flattenedVerify(jws, published);
    expect(protectedHeader).toEqual(HEADER);
  });

  it('and refuses it over other content', async () => {
    const [header = '', , signature = ''] = signDetached(payload, key).split('.');
    const jws = { protected: header, payload: toBase64Url(Buffer.from('other')), signature };
    const published = await importJWK(key.publicKey);
    await expect(flattenedVerify(jws, published)).rejects.toThrow('signature verification failed');
  });

  it('another library signs to the same letters, and we accept what it signed', async () => {
    const compact = await new CompactSign(payload).setProtectedHeader(HEADER).sign(key.privateKey);
    const [header, , signature] = compact.split('.');
    const detached = `${header}..${signature}`;
    expect(detached).toBe(signDetached(payload, key));
    expect(verifyDetached(payload, detached, keys).outcome).toBe('good');
  });
});

describe('a signature is checked our way, whatever it asks for', () => {
  const good = signDetached(payload, key);
  const [goodHeader = '', , goodMark = ''] = good.split('.');
  const encode = (header: unknown) => toBase64Url(Buffer.from(JSON.stringify(header)));
  const signedAs = (header: unknown) => {
    const encoded = encode(header);
    return `${encoded}..${toBase64Url(sign(null, signingInput(encoded, payload), key.privateKey))}`;
  };

  it.each([
    ['no algorithm at all', signedAs({ ...HEADER, alg: 'none' }), 'not_ours'],
    ['a shared-secret algorithm', signedAs({ ...HEADER, alg: 'HS256' }), 'not_ours'],
    ['an extension that must be understood', signedAs({ ...HEADER, crit: ['b64'] }), 'not_ours'],
    ['a key of its own in the header', signedAs({ ...HEADER, jwk: RFC_8037_KEY }), 'not_ours'],
    ['another type', signedAs({ ...HEADER, typ: 'JWT' }), 'not_ours'],
    ['a key that was never published', signedAs({ ...HEADER, kid: 'other' }), 'unknown_key'],
    ['content in it', `${goodHeader}.${toBase64Url(payload)}.${goodMark}`, 'not_ours'],
    ['a fourth part', `${good}.x`, 'not_ours'],
    ['padding', `${good}==`, 'bad'],
    ['a line end', `${good}\n`, 'bad'],
    // Four of the last letter's six bits say nothing; a loose decoder takes them for the same.
    ['another last letter for the same bytes', `${good.slice(0, -1)}h`, 'bad'],
    ['no signature', `${goodHeader}..`, 'bad'],
    ['a signature cut short', good.slice(0, -2), 'bad'],
    ['nothing', '', 'not_ours'],
  ])('refuses one with %s', (_, signature, outcome) => {
    expect(verifyDetached(payload, signature, keys).outcome).toBe(outcome);
  });

  it('refuses it over any other content', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 60 }), (other) => {
        fc.pre(Buffer.compare(other, payload) !== 0);
        expect(verifyDetached(other, good, keys).outcome).toBe('bad');
      }),
    );
  });
});

it('every byte string has exactly one spelling in base64url', () => {
  fc.assert(
    fc.property(fc.uint8Array(), (bytes) => {
      const text = toBase64Url(bytes);
      expect(fromBase64Url(text)).toEqual(bytes);
      expect(fromBase64Url(`${text}=`)).toBeUndefined();
      expect(fromBase64Url(`${text}\n`)).toBeUndefined();
    }),
  );
});
