import type { PaperLanguage } from '../documents/index.ts';

/**
 * A paper as it is frozen: in English with the same in Spanish, both under one hash, which is not
 * part of what it is of. What was issued at an earlier time has English alone.
 */
export type Frozen<P extends { contentHash?: string | undefined }> = Omit<P, 'contentHash'> & {
  inSpanish?: Omit<P, 'contentHash'>;
};

/**
 * What this program froze, in one language; undefined where it was not written in that.
 * @param stored the JSON beside the hash
 */
export function frozenIn<P extends { contentHash?: string | undefined }>(
  { paper, contentHash }: { paper: unknown; contentHash: string },
  language: PaperLanguage,
): P | undefined {
  const { inSpanish, ...rest } = paper as Frozen<P> & { cancelRights?: unknown };
  const { cancelRights: _, ...english } = rest;
  const told = language === 'en' ? english : inSpanish;
  return told && ({ ...told, contentHash } as P);
}
