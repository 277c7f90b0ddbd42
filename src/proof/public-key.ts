import { createHash, createPublicKey, type KeyObject } from 'node:crypto';
import { z } from 'zod';
import { canonicalJson } from '../platform/canonical-json.ts';
import { fromBase64Url, toBase64Url } from './base64url.ts';

/** The published half of a key that signs papers (RFC 7517, RFC 8037). It is no secret. */
export const publicPaperKey = z.object({
  kty: z.literal('OKP'),
  crv: z.literal('Ed25519'),
  /** The key's 32 bytes. */
  x: z.string().refine((text) => fromBase64Url(text)?.length === 32, {
    error: 'must be the 32 bytes of a key in base64url',
  }),
  /** The key's thumbprint (RFC 7638), so that the name cannot belong to another key. */
  kid: z.string(),
  use: z.literal('sig').default('sig'),
  alg: z.literal('EdDSA').default('EdDSA'),
});

export type PublicPaperKey = z.output<typeof publicPaperKey>;

/** Describes the public half of an Ed25519 key, private or public. */
export function publicPaperKeyOf(key: KeyObject): PublicPaperKey {
  const { x } = createPublicKeyOf(key).export({ format: 'jwk' });
  if (typeof x !== 'string') throw new TypeError('only an Ed25519 key signs papers');
  return { kty: 'OKP', crv: 'Ed25519', x, kid: keyThumbprint(x), use: 'sig', alg: 'EdDSA' };
}

/**
 * The RFC 7638 thumbprint of an Ed25519 key: SHA-256 over its required members in their canonical
 * form, as RFC 8037, section 2 and appendix A.3 name them.
 * @param x the key's bytes in base64url
 */
export function keyThumbprint(x: string): string {
  const required = canonicalJson({ crv: 'Ed25519', kty: 'OKP', x });
  return toBase64Url(createHash('sha256').update(required).digest());
}

function createPublicKeyOf(key: KeyObject): KeyObject {
  return key.type === 'private' ? createPublicKey(key) : key;
}
