import { randomBytes } from 'node:crypto';
import { rename, writeFile } from 'node:fs/promises';
import { z } from 'zod';
import { keyThumbprint, type PublicPaperKey, publicPaperKey } from './public-key.ts';

/** The keys a company has published, old ones included: a JWK set (RFC 7517, section 5). */
export interface KeySet {
  keys: readonly PublicPaperKey[];
}

/** As the set is published, at an address or in a file. */
export function keySetText({ keys }: KeySet): string {
  return `${JSON.stringify({ keys }, null, 2)}\n`;
}

/**
 * Reads a published key set. Keys of other kinds in it are passed over, as RFC 7517 asks.
 * @throws KeySetRefused when the text is no key set, or a key goes by a name that is not its own
 */
export function readKeySet(text: string): KeySet {
  const set = keySetShape.safeParse(parseJson(text));
  if (!set.success) throw new KeySetRefused('This is not a set of keys: {"keys": [...]}.');
  const keys = set.data.keys.flatMap((key) => {
    const ours = publicPaperKey.safeParse(key);
    return ours.success ? [ours.data] : [];
  });
  for (const { x, kid } of keys) {
    // Under a borrowed name a stranger's key would vouch for papers of the company.
    if (keyThumbprint(x) !== kid) throw new KeySetRefused(`The key "${kid}" is another key.`);
  }
  return { keys };
}

export class KeySetRefused extends Error {
  override name = 'KeySetRefused';
}

/** Writes a key set to a file, whole or not at all: whoever reads it never meets half a set. */
export async function writeKeySet(file: string, set: KeySet): Promise<void> {
  const draft = `${file}.${randomBytes(6).toString('hex')}`;
  await writeFile(draft, keySetText(set), { mode: 0o644, flag: 'wx' });
  await rename(draft, file);
}

const keySetShape = z.object({ keys: z.array(z.unknown()).max(1_000) });

function parseJson(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}
