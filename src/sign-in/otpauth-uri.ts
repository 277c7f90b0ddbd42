import { base32 } from './base32.ts';
import { CODE_DIGITS, STEP_SECONDS } from './code-of-step.ts';

/**
 * The address by which an app that shows codes takes a secret over, as such apps agree on it. Whose
 * it is stands before a colon, so neither name may have one.
 */
export function otpauthUri({
  secret,
  issuer,
  account,
}: {
  secret: Uint8Array;
  /** The company, as the app lists it. */
  issuer: string;
  /** Whose it is: their e-mail. */
  account: string;
}): string {
  const [company, person] = [issuer, account].map((name) =>
    encodeURIComponent(name.replaceAll(':', ' ').trim()),
  );
  const asked = `algorithm=SHA1&digits=${CODE_DIGITS}&period=${STEP_SECONDS}`;
  return `otpauth://totp/${company}:${person}?secret=${base32(secret)}&issuer=${company}&${asked}`;
}
