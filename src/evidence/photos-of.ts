import type { z } from 'zod';
import type { Tx } from '../platform/database/database.ts';
import type { visitPhotoSchema } from './contract.ts';
import { photoMediaTypes } from './photo-media-type.ts';
import { photoSubjects } from './photo-subjects.ts';

/**
 * The photos of a visit, in the order they were sent, as the API lists them. The pictures
 * themselves stay in the database: a list of fifty must not carry half a gigabyte.
 */
export async function photosOf(
  prisma: Pick<Tx, 'visitPhoto'>,
  where: { visitId: string; sha256?: string },
): Promise<z.input<typeof visitPhotoSchema>[]> {
  const rows = await prisma.visitPhoto.findMany({
    where,
    orderBy: [{ recordedAt: 'asc' }, { sha256: 'asc' }],
    include: { document: { select: { mediaType: true } } },
  });
  return rows.map((row) => ({
    sha256: row.sha256,
    shows: oneOf(photoSubjects, row.shows),
    mediaType: oneOf(photoMediaTypes, row.document.mediaType),
    widthPx: row.widthPx,
    heightPx: row.heightPx,
    recordedAt: row.recordedAt.toISOString(),
    recordedById: row.recordedById,
  }));
}

function oneOf<Word extends string>(words: readonly Word[], stored: string): Word {
  const word = words.find((each) => each === stored);
  if (word === undefined) throw new Error(`a stored photo has the unknown word ${stored}`);
  return word;
}
