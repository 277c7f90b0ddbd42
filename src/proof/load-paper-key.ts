import { createPrivateKey, generateKeyPairSync, type KeyObject } from 'node:crypto';
import { openToOthers, secretFile } from '../platform/secret-file.ts';
import { type PublicPaperKey, publicPaperKeyOf } from './public-key.ts';

/** What signs papers. The private half never leaves the process that loaded it. */
export interface PaperKey {
  privateKey: KeyObject;
  publicKey: PublicPaperKey;
}

export interface LoadedPaperKey {
  key: PaperKey;
  /** Whether the file was not there and has been made. */
  isNew: boolean;
  /** What the operator should know, in a sentence. */
  warnings: readonly string[];
}

/**
 * Loads the key that signs papers from a PKCS#8 PEM file, or makes one that only its owner can
 * read. Where two processes start at once, both end up with the same key.
 * @throws PaperKeyRefused when the file is there and holds no usable Ed25519 key
 */
export async function loadPaperKey(file: string): Promise<LoadedPaperKey> {
  const { text, isNew } = await secretFile(file, newKeyPem);
  const key = paperKeyOf(readPrivateKey(file, text));
  return { key, isNew, warnings: await openToOthers(file, HARM) };
}

export class PaperKeyRefused extends Error {
  override name = 'PaperKeyRefused';
}

/** A key to sign with, from its private half. */
export function paperKeyOf(privateKey: KeyObject): PaperKey {
  return { privateKey, publicKey: publicPaperKeyOf(privateKey) };
}

const HARM = "Whoever reads it can sign papers in the company's name";

function newKeyPem(): string {
  const { privateKey } = generateKeyPairSync('ed25519');
  return privateKey.export({ type: 'pkcs8', format: 'pem' }).toString();
}

function readPrivateKey(file: string, pem: string): KeyObject {
  if (/ENCRYPTED/.test(pem)) {
    throw new PaperKeyRefused(
      `${file} is locked with a password. The service starts unattended and needs the key unlocked (openssl pkcs8 -topk8 -nocrypt).`,
    );
  }
  if (pem.trim() === '') {
    throw new PaperKeyRefused(`${file} is empty. Restore it, or remove it and a new key is made.`);
  }
  const key = parsePrivateKey(pem);
  if (key === undefined) {
    throw new PaperKeyRefused(`${file} does not hold a private key in PKCS#8 PEM form.`);
  }
  if (key.asymmetricKeyType !== 'ed25519') {
    throw new PaperKeyRefused(
      `${file} holds a key of kind ${key.asymmetricKeyType}. Papers are signed with Ed25519 (openssl genpkey -algorithm ed25519).`,
    );
  }
  return key;
}

function parsePrivateKey(pem: string): KeyObject | undefined {
  try {
    return createPrivateKey(pem);
  } catch {
    return undefined;
  }
}
