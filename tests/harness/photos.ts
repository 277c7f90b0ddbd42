import type { Job } from './job.ts';
import { expectStatus, type TestService } from './test-service.ts';

/** The first bytes of an image of each form, which is all of it that anybody looks at. */
export const photoHeads = {
  'image/jpeg': [0xff, 0xd8, 0xff, 0xe0],
  'image/png': [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a],
  'image/webp': [...Buffer.from('RIFF'), 0, 0, 0, 0, ...Buffer.from('WEBP')],
} as const;

/** An invented photo: the head of its form, and what would be seen on it. */
export function photoOf(
  shows: string,
  mediaType: keyof typeof photoHeads = 'image/jpeg',
): Uint8Array {
  return Buffer.concat([Buffer.from(photoHeads[mediaType]), Buffer.from(shows)]);
}

/** Sends a photo of a job as its technician, and gives its hash. */
export async function addPhoto(service: TestService, job: Job, shows: string): Promise<string> {
  const path = `/v1/visits/${job.visitId}/photos`;
  const sent = await service.as('technician').send(path, 'image/jpeg', photoOf(shows));
  return expectStatus(sent, 201).body.sha256;
}
