import { createHmac, type KeyObject } from 'node:crypto';

/** How many digits a code has. */
export const CODE_DIGITS = 6;

/** How long each code is shown, in seconds. */
export const STEP_SECONDS = 30;

/** The code of a secret at a step of time, in digits (RFC 4226, section 5.3, with HMAC-SHA-1). */
export function codeOfStep(secret: Uint8Array | KeyObject, step: number): string {
  const counter = Buffer.alloc(8);
  counter.writeBigUInt64BE(BigInt(step));
  const mac = createHmac('sha1', secret).update(counter).digest();
  // The last four bits say where the 31 bits stand that the code is made of.
  const at = (mac.at(-1) ?? 0) & 0x0f;
  const number = mac.readUInt32BE(at) & 0x7fff_ffff;
  return String(number % 10 ** CODE_DIGITS).padStart(CODE_DIGITS, '0');
}

/** The step of time that an instant is in (RFC 6238, section 4.2, counted from 1970). */
export function stepAt(instant: Date): number {
  return Math.floor(instant.getTime() / 1_000 / STEP_SECONDS);
}
