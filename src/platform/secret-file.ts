import { randomBytes } from 'node:crypto';
import { link, mkdir, readFile, stat, unlink, writeFile } from 'node:fs/promises';
import path from 'node:path';

/** What a file of one secret holds, and whether it was not there and has been made. */
export interface SecretFile {
  text: string;
  isNew: boolean;
}

/**
 * Reads a file of one secret, or makes one that only its owner can read. Where two processes start
 * at once, both end up with the same secret: the file appears whole under its name, and only one of
 * them can put it there.
 */
export async function secretFile(file: string, make: () => string): Promise<SecretFile> {
  const found = await readIfThere(file);
  if (found !== undefined) return { text: found, isNew: false };
  const isNew = await placeNew(file, make());
  return { text: await readFile(file, 'utf8'), isNew };
}

/**
 * What the operator should know of a file that others can read; nothing where nobody else can.
 * Windows keeps no such bits, so there is nothing to warn of.
 * @param harm what whoever reads it could do, as a sentence without its end
 */
export async function openToOthers(file: string, harm: string): Promise<string[]> {
  const { mode } = await stat(file);
  if (process.platform === 'win32' || (mode & 0o077) === 0) return [];
  const octal = (mode & 0o777).toString(8);
  return [`${file} can be read by others (mode ${octal}). ${harm}: chmod 600 it.`];
}

/**
 * A hard link fails where the name is taken, so the first of several processes wins and none ever
 * reads a half-written secret.
 * @returns whether the secret that stands there now is the one made here
 */
async function placeNew(file: string, text: string): Promise<boolean> {
  await mkdir(path.dirname(file), { recursive: true });
  const draft = `${file}.${randomBytes(6).toString('hex')}`;
  await writeFile(draft, text, { mode: 0o600, flag: 'wx' });
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
