import { createHash } from 'node:crypto';

/** SHA-256 in lower-case hexadecimal; text is taken as UTF-8. */
export function sha256(content: string | Uint8Array): string {
  return createHash('sha256').update(content).digest('hex');
}
