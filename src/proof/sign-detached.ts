import { sign } from 'node:crypto';
import { toBase64Url } from './base64url.ts';
import type { PaperKey } from './load-paper-key.ts';

/** What the header of our signatures names as their kind. */
export const SIGNATURE_TYPE = 'evenhand-paper';

/**
 * Signs bytes that are kept apart from their signature: a JWS with detached content (RFC 7515,
 * appendix F) over Ed25519 (RFC 8037). The same bytes and key give the same text.
 */
export function signDetached(payload: Uint8Array, { privateKey, publicKey }: PaperKey): string {
  const header = signatureHeader(publicKey.kid);
  const signature = sign(null, signingInput(header, payload), privateKey);
  return `${header}..${toBase64Url(signature)}`;
}

/** The one header a key's signatures have, encoded. */
function signatureHeader(kid: string): string {
  return toBase64Url(Buffer.from(JSON.stringify({ alg: 'EdDSA', kid, typ: SIGNATURE_TYPE })));
}

/** What is signed: header and content, both in base64url (RFC 7515, section 5.1). */
export function signingInput(header: string, payload: Uint8Array): Uint8Array {
  return Buffer.from(`${header}.${toBase64Url(payload)}`);
}
