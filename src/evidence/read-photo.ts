import { notFound } from '../platform/http/problem.ts';
import type { AnsweredFile, ReadContext } from '../platform/http/route.ts';
import { ownVisits } from '../staff/index.ts';
import { photoExtension, photoMediaTypeOf } from './photo-media-type.ts';

/**
 * A photo of a visit that whoever asks may see.
 * @throws ProblemError 404, the same for an unknown photo and one of another technician's visit
 */
export async function readPhoto(context: ReadContext, hash: string): Promise<AnsweredFile> {
  const { actor } = context;
  const ofVisit = await context.prisma.visitPhoto.findFirst({
    where: {
      sha256: hash,
      visit: ownVisits(actor),
    },
    include: { document: true },
  });
  if (ofVisit === null) throw notFound('photo');
  const { bytes } = ofVisit.document;
  const mediaType = photoMediaTypeOf(bytes);
  if (mediaType === undefined) throw new Error(`photo ${hash} is no image`);
  const fileName = `photo-${hash.slice(0, 12)}.${photoExtension[mediaType]}`;
  return { bytes, mediaType, etag: `"${hash}"`, fileName };
}
