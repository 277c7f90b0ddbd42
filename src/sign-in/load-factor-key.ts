import { createSecretKey, type KeyObject, randomBytes } from 'node:crypto';
import { openToOthers, secretFile } from '../platform/secret-file.ts';

/** The key that the secrets of second factors are sealed with; it never stands in the database. */
export type FactorKey = KeyObject;

export interface LoadedFactorKey {
  key: FactorKey;
  /** Whether the file was not there and has been made. */
  isNew: boolean;
  /** What the operator should know, in a sentence. */
  warnings: readonly string[];
}

/**
 * Loads the key from a file of one line, or makes one that only its owner can read.
 * @throws Error when the file is there and holds no key
 */
export async function loadFactorKey(file: string): Promise<LoadedFactorKey> {
  const { text, isNew } = await secretFile(file, newKeyText);
  if (!KEY.test(text)) {
    throw new Error(
      `${file} does not hold a key: 32 bytes in base64 on one line. Restore it. If it is lost, ` +
        'remove it: a new one is made, and people sign in with a recovery code.',
    );
  }
  const warnings = await openToOthers(file, HARM);
  return { key: createSecretKey(Buffer.from(text, 'base64')), isNew, warnings };
}

/** A key that is gone with the process. */
export function newFactorKey(): FactorKey {
  return createSecretKey(randomBytes(KEY_BYTES));
}

const HARM = 'Whoever reads it and the database has the codes of everybody';

const KEY_BYTES = 32;

const KEY = /^[A-Za-z0-9+/]{43}=\r?\n?$/;

function newKeyText(): string {
  return `${randomBytes(KEY_BYTES).toString('base64')}\n`;
}

// Whoever lets people in opens what was sealed.
declare module '../platform/http/route.ts' {
  interface EntranceContext {
    factorKey: FactorKey;
  }
}
