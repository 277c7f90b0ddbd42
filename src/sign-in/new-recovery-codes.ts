import { randomBytes } from 'node:crypto';
import { hashPassword } from './hash-password.ts';

/** A code that stands in for a phone that is gone, with what is stored of it. */
export interface RecoveryCode {
  /** Which of the ten it is: its first digit, by which it is found again. */
  place: number;
  /** As it is told, once; it is stored nowhere. */
  code: string;
  hash: string;
}

/**
 * Ten codes, each with 45 bits of chance: too few for a quick hash, so they are hashed as passwords
 * are. The first digit says which one it is, so that a try costs one hash and not ten.
 */
export function newRecoveryCodes(): Promise<RecoveryCode[]> {
  return Promise.all(
    Array.from({ length: RECOVERY_CODES }, async (_, place) => {
      const letters = [...randomBytes(LETTERS)].map((byte) => ALPHABET[byte % ALPHABET.length]);
      const plain = `${place}${letters.join('')}`;
      const code = `${plain.slice(0, 5)}-${plain.slice(5)}`;
      return { place, code, hash: await hashPassword(plain) };
    }),
  );
}

/** How many there are: one for each digit. */
export const RECOVERY_CODES = 10;

const LETTERS = 9;

/** Thirty-two letters, none of which is taken for another; a byte falls on each as often. */
const ALPHABET = '0123456789abcdefghjkmnpqrstvwxyz';
