import { createHash, randomBytes } from 'node:crypto';

/** A new secret of 256 bits, in the letters of an address. */
export function newToken(): string {
  return randomBytes(32).toString('base64url');
}

/**
 * What is stored of a token: who reads the database can open nothing with it. The token has 256 bits of
 * chance, so a plain hash suffices.
 */
export function hashOfToken(token: string): Uint8Array<ArrayBuffer> {
  return new Uint8Array(createHash('sha256').update(token, 'utf8').digest());
}
