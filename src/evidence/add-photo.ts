import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import type { SentFile } from '../platform/http/sent-file.ts';
import { sha256 } from '../platform/sha256.ts';
import type { photoSchema } from './contract.ts';
import { type PhotoMediaType, photoMediaTypeOf, photoMediaTypes } from './photo-media-type.ts';
import { photoRefusal } from './photo-refusal.ts';
import { type PhotoSize, photoSize } from './photo-size.ts';
import type { PhotoSubject } from './photo-subjects.ts';
import { photosOf } from './photos-of.ts';
import { requireOnSite } from './require-on-site.ts';

/**
 * Keeps a photo under its own hash, as one of this visit: a reading or an observation may then name
 * it. It is evidence, so not a byte of it is changed, its metadata included. The same photo sent
 * again is the same photo, and shows what it was first said to show: photos are never rewritten.
 * @throws ProblemError 409 unless on site, 415 when the bytes are not the image they are said to
 *   be, 422 when it is too small, too large or damaged
 */
export async function addPhoto(
  act: ActContext,
  visitId: string,
  shows: PhotoSubject,
  file: SentFile,
): Promise<z.input<typeof photoSchema>> {
  const visit = await requireOnSite(act, visitId);
  const mediaType = requireImage(file);
  const size = requireUsable(file);
  const hash = sha256(file.bytes);
  const bytes = file.bytes.length;
  await act.tx.document.createMany({
    data: [
      {
        sha256: hash,
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
        sha256: hash,
        shows,
        ...size,
        recordedAt: act.now,
        recordedById: act.actor.id,
      },
    ],
    skipDuplicates: true,
  });
  if (kept.count > 0) {
    await appendJournal(act, {
      event: 'photo.added',
      subject: { kind: 'photo', id: hash },
      after: { visitId: visit.id, shows, mediaType, bytes, ...size },
    });
  }
  const [photo] = await photosOf(act.tx, { visitId: visit.id, sha256: hash });
  if (photo === undefined) throw new Error('the photo just kept is not there');
  return { ...photo, bytes };
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

function requireUsable({ bytes }: SentFile): PhotoSize {
  const size = photoSize(bytes);
  if (size === undefined) {
    throw new ProblemError(
      'photo-unusable',
      'The image does not say how large it is: it is cut short or damaged.',
      { reason: 'no_size' },
    );
  }
  const refusal = photoRefusal(size);
  if (refusal === undefined) return size;
  const { reason, message } = refusal;
  throw new ProblemError('photo-unusable', message, { reason, ...size });
}
