import { createPublicKey, verify } from 'node:crypto';
import { z } from 'zod';
import { fromBase64Url } from './base64url.ts';
import type { KeySet } from './key-set.ts';
import type { PublicPaperKey } from './public-key.ts';
import { SIGNATURE_TYPE, signingInput } from './sign-detached.ts';

/** What a detached signature is worth. */
export type SignatureCheck =
  | { outcome: 'good'; kid: string }
  | { outcome: 'bad'; kid: string }
  | { outcome: 'unknown_key'; kid: string }
  | { outcome: 'not_ours' };

/**
 * Checks a detached JWS over the bytes it goes with. Nothing in the signature chooses how it is
 * checked: the algorithm is EdDSA or it is not ours, and only the published keys count.
 */
export function verifyDetached(
  payload: Uint8Array,
  signature: string,
  { keys }: KeySet,
): SignatureCheck {
  const [header = '', content, mark = '', ...more] = signature.split('.');
  if (content !== '' || more.length > 0) return { outcome: 'not_ours' };
  const named = headerShape.safeParse(parseHeader(header));
  if (!named.success) return { outcome: 'not_ours' };
  const { kid } = named.data;
  const key = keys.find((each) => each.kid === kid);
  if (key === undefined) return { outcome: 'unknown_key', kid };
  const bytes = fromBase64Url(mark);
  const isGood = bytes !== undefined && isSignedBy(key, signingInput(header, payload), bytes);
  return { outcome: isGood ? 'good' : 'bad', kid };
}

/** Strict: what this reader does not know, a "crit" for one, it must not accept (RFC 7515, 4.1.11). */
const headerShape = z.strictObject({
  alg: z.literal('EdDSA'),
  kid: z.string().max(200),
  typ: z.literal(SIGNATURE_TYPE),
});

function parseHeader(header: string): unknown {
  const bytes = fromBase64Url(header);
  if (bytes === undefined) return undefined;
  try {
    return JSON.parse(new TextDecoder('utf-8', { fatal: true }).decode(bytes));
  } catch {
    return undefined;
  }
}

function isSignedBy({ kty, crv, x }: PublicPaperKey, input: Uint8Array, mark: Uint8Array): boolean {
  const key = createPublicKey({ key: { kty, crv, x }, format: 'jwk' });
  return verify(null, input, key, mark);
}
