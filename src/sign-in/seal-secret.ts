import { createCipheriv, createDecipheriv, randomBytes } from 'node:crypto';
import type { FactorKey } from './load-factor-key.ts';

/**
 * A secret as it is stored: sealed with AES-256-GCM, so that whoever reads the database or an export
 * of it has no codes. It opens at its own place only; put at another it is no secret at all.
 * @param place what the row is called
 */
export function sealSecret(
  key: FactorKey,
  place: string,
  secret: Uint8Array,
): Uint8Array<ArrayBuffer> {
  const nonce = randomBytes(NONCE_BYTES);
  const cipher = createCipheriv(CIPHER, key, nonce).setAAD(Buffer.from(place));
  const sealed = [cipher.update(secret), cipher.final()];
  return new Uint8Array(Buffer.concat([nonce, cipher.getAuthTag(), ...sealed]));
}

/** @returns undefined for what was sealed with another key or stood at another place */
export function openSecret(
  key: FactorKey,
  place: string,
  sealed: Uint8Array,
): Uint8Array | undefined {
  const tagEnd = NONCE_BYTES + TAG_BYTES;
  const decipher = createDecipheriv(CIPHER, key, sealed.subarray(0, NONCE_BYTES))
    .setAAD(Buffer.from(place))
    .setAuthTag(sealed.subarray(NONCE_BYTES, tagEnd));
  try {
    return Buffer.concat([decipher.update(sealed.subarray(tagEnd)), decipher.final()]);
  } catch {
    return undefined;
  }
}

const CIPHER = 'aes-256-gcm';
/** As NIST SP 800-38D recommends, section 5.2.1.1; a key seals far fewer than 2^32 secrets. */
const NONCE_BYTES = 12;
const TAG_BYTES = 16;
