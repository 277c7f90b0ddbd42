import { createPrivateKey, generateKeyPairSync, type KeyObject, randomBytes } from 'node:crypto';
import { link, mkdir, readFile, stat, unlink, writeFile } from 'node:fs/promises';
import path from 'node:path';
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
 * read. Where two processes start at once, both end up with the same key: the file appears whole
 * under its name, and only one of them can put it there.
 * @throws PaperKeyRefused when the file is there and holds no usable Ed25519 key
 */
export async function loadPaperKey(file: string): Promise<LoadedPaperKey> {
  const found = await readIfThere(file);
  if (found !== undefined) return asLoaded(file, found, false);
  const isNew = await placeNewKey(file);
  return asLoaded(file, await readFile(file, 'utf8'), isNew);
}

export class PaperKeyRefused extends Error {
  override name = 'PaperKeyRefused';
}

/** A key to sign with, from its private half. */
export function paperKeyOf(privateKey: KeyObject): PaperKey {
  return { privateKey, publicKey: publicPaperKeyOf(privateKey) };
}

async function asLoaded(file: string, pem: string, isNew: boolean): Promise<LoadedPaperKey> {
  const key = paperKeyOf(readPrivateKey(file, pem));
  return { key, isNew, warnings: await warningsOf(file) };
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

/** Windows keeps no such bits, so there is nothing to warn of. */
async function warningsOf(file: string): Promise<string[]> {
  const { mode } = await stat(file);
  if (process.platform === 'win32' || (mode & 0o077) === 0) return [];
  const octal = (mode & 0o777).toString(8);
  return [
    `${file} can be read by others (mode ${octal}). Whoever reads it can sign papers in the company's name: chmod 600 it.`,
  ];
}

/**
 * A hard link fails where the name is taken, so the first of several processes wins and none ever
 * reads a half-written key.
 * @returns whether the key that stands there now is the one made here
 */
async function placeNewKey(file: string): Promise<boolean> {
  const pem = generateKeyPairSync('ed25519').privateKey.export({ type: 'pkcs8', format: 'pem' });
  await mkdir(path.dirname(file), { recursive: true });
  const draft = `${file}.${randomBytes(6).toString('hex')}`;
  await writeFile(draft, pem, { mode: 0o600, flag: 'wx' });
  try {
    await link(draft, file);
    return true;
  } catch (error) {
    if (hasCode(error, 'EEXIST')) return false;
    throw error;
  } finally {
    await unlink(draft);
  }
}

async function readIfThere(file: string): Promise<string | undefined> {
  try {
    return await readFile(file, 'utf8');
  } catch (error) {
    if (hasCode(error, 'ENOENT')) return undefined;
    throw error;
  }
}

function hasCode(error: unknown, code: string): boolean {
  return error instanceof Error && 'code' in error && error.code === code;
}
