import { jpegOf } from '../../seed/jpeg-of.ts';
import type { PhotoMediaType } from '../../src/evidence/photo-media-type.ts';
import type { PhotoSize } from '../../src/evidence/photo-size.ts';
import type { Job } from './job.ts';
import { expectStatus, type TestService } from './test-service.ts';

const usual: PhotoSize = { widthPx: 1_600, heightPx: 1_200 };

/** An invented photo: the head of its form with its size, and what would be seen on it. */
export function photoOf(
  shows: string,
  mediaType: PhotoMediaType = 'image/jpeg',
  size: PhotoSize = usual,
): Uint8Array {
  switch (mediaType) {
    case 'image/jpeg':
      return jpegOf(shows, size);
    case 'image/png':
      return Buffer.concat([pngHead(size), Buffer.from(shows)]);
    case 'image/webp':
      return Buffer.concat([webpHead(size), Buffer.from(shows)]);
  }
}

/** Sends a photo of a job as its technician, and gives its hash. */
export async function addPhoto(service: TestService, job: Job, shows: string): Promise<string> {
  const path = `/v1/visits/${job.visitId}/photos`;
  const sent = await service.as('technician').send(path, 'image/jpeg', photoOf(shows));
  return expectStatus(sent, 201).body.sha256;
}

/** W3C PNG: signature and IHDR; eight bits of gray. */
function pngHead({ widthPx, heightPx }: PhotoSize): Uint8Array {
  const head = Buffer.alloc(33);
  head.write('\x89PNG\r\n\x1a\n', 'latin1');
  head.writeUInt32BE(13, 8);
  head.write('IHDR', 12, 'latin1');
  head.writeUInt32BE(widthPx, 16);
  head.writeUInt32BE(heightPx, 20);
  head.writeUInt8(8, 24);
  return head;
}

/** RFC 9649: RIFF header and the extended header, VP8X. */
function webpHead({ widthPx, heightPx }: PhotoSize): Uint8Array {
  const head = Buffer.alloc(30);
  head.write('RIFF', 'latin1');
  head.write('WEBPVP8X', 8, 'latin1');
  head.writeUInt32LE(10, 16);
  head.writeUIntLE(widthPx - 1, 24, 3);
  head.writeUIntLE(heightPx - 1, 27, 3);
  return head;
}
