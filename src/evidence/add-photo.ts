import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import type { SentFile } from '../platform/http/sent-file.ts';
import { sha256 } from '../platform/sha256.ts';
import type { photoSchema } from './contract.ts';
import { type PhotoMediaType, photoMediaTypeOf, photoMediaTypes } from './photo-media-type.ts';
import { requireOnSite } from './require-on-site.ts';

/**
 * Keeps a photo under its own hash, as one of this visit: an observation may then name it. The same
 * photo sent again is the same photo.
 * @throws ProblemError 409 unless on site, 415 when the bytes are not the image they are said to be
 */
export async function addPhoto(
  act: ActContext,
  visitId: string,
  file: SentFile,
): Promise<z.input<typeof photoSchema>> {
  const visit = await requireOnSite(act, visitId);
  const mediaType = requireImage(file);
  const photo = { sha256: sha256(file.bytes), mediaType, bytes: file.bytes.length };
  await act.tx.document.createMany({
    data: [
      {
        sha256: photo.sha256,
        kind: 'photo',
        // A photo is in no language, and nobody rendered it.
        language: 'none',
        renderer: 'none',
        mediaType,
        bytes: new Uint8Array(file.bytes),
        createdAt: act.now,
      },
    ],
    skipDuplicates: true,
  });
  const kept = await act.tx.visitPhoto.createMany({
    data: [
      {
        visitId: visit.id,
        sha256: photo.sha256,
        recordedAt: act.now,
        recordedById: act.actor.id,
      },
    ],
    skipDuplicates: true,
  });
  if (kept.count > 0) {
    await appendJournal(act, {
      event: 'photo.added',
      subject: { kind: 'photo', id: photo.sha256 },
      after: { visitId: visit.id, mediaType, bytes: photo.bytes },
    });
  }
  return photo;
}

function requireImage({ mediaType, bytes }: SentFile): PhotoMediaType {
  const actual = photoMediaTypeOf(bytes);
  if (actual === undefined) {
    throw new ProblemError(
      'unsupported-media-type',
      `These bytes are no image of these forms: ${photoMediaTypes.join(', ')}.`,
    );
  }
  if (actual !== mediaType) {
    throw new ProblemError(
      'unsupported-media-type',
      `These bytes are ${actual}, and were sent as ${mediaType}.`,
    );
  }
  return actual;
}
