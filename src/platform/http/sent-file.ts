import type { FastifyInstance, FastifyRequest } from 'fastify';
import { z } from 'zod';

/** What files a route takes as its body, instead of JSON. */
export interface FileBody {
  mediaTypes: readonly string[];
  bytesMax: number;
}

/** The body of a request that is one file: its bytes, and what its sender says they are. */
export interface SentFile {
  mediaType: string;
  bytes: Uint8Array;
}

/** The schema of a body that is a file; an empty one is a mistake. */
export const sentFileSchema = z
  .custom<SentFile>((body) => isSentFile(body) && body.bytes.length > 0, {
    error: 'is empty: send the file itself',
  })
  .meta({ type: 'string', format: 'binary' });

export function isSentFile(body: unknown): body is SentFile {
  return (
    typeof body === 'object' && body !== null && 'bytes' in body && body.bytes instanceof Uint8Array
  );
}

/** Makes a scope take files of these media types, and no other body at all. */
export function takeFiles(scope: FastifyInstance, { mediaTypes }: FileBody): void {
  scope.removeAllContentTypeParsers();
  for (const mediaType of mediaTypes) {
    scope.addContentTypeParser(
      mediaType,
      { parseAs: 'buffer' },
      async (_request: FastifyRequest, bytes: Buffer): Promise<SentFile> => ({ mediaType, bytes }),
    );
  }
}
