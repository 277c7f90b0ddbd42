import fastifyMultipart from '@fastify/multipart';
import type { FastifyInstance, FastifyRequest } from 'fastify';
import { PAPER_BYTES_MAX } from '../proof/index.ts';
import type { Unread } from './words.ts';

/** A file that was sent, or why there is none to read. */
export type TakenFile =
  | { outcome: 'taken'; bytes: Uint8Array }
  | {
      outcome: 'not_taken';
      why: Extract<Unread, 'no_file' | 'empty' | 'several_files' | 'too_large' | 'unreadable'>;
    };

/** Makes a scope take a form with one file, and no other body at all. */
export async function takesFiles(scope: FastifyInstance): Promise<void> {
  scope.removeAllContentTypeParsers();
  await scope.register(fastifyMultipart, {
    limits: { fileSize: PAPER_BYTES_MAX, files: 1, parts: 4, fields: 2, fieldSize: 100 },
  });
}

/**
 * Reads the file of a form into memory. What is too large is let go of as it comes, and read to its
 * end: a browser that is still sending would never see the answer.
 */
export async function takeFile(request: FastifyRequest): Promise<TakenFile> {
  if (!request.isMultipart()) return { outcome: 'not_taken', why: 'no_file' };
  try {
    let bytes: Uint8Array | undefined;
    let isNamed = false;
    for await (const part of request.parts()) {
      if (part.type !== 'file') continue;
      isNamed = Boolean(part.filename);
      bytes = await part.toBuffer();
    }
    if (bytes !== undefined && bytes.length > 0) return { outcome: 'taken', bytes };
    // A form in which no file was chosen sends an empty one without a name.
    return { outcome: 'not_taken', why: isNamed ? 'empty' : 'no_file' };
  } catch (error) {
    request.log.info({ reason: String(error) }, 'a file did not arrive');
    return { outcome: 'not_taken', why: REASONS[codeOf(error)] ?? 'unreadable' };
  }
}

const REASONS: Record<string, 'too_large' | 'several_files'> = {
  FST_REQ_FILE_TOO_LARGE: 'too_large',
  FST_FILES_LIMIT: 'several_files',
};

function codeOf(error: unknown): string {
  return error instanceof Error && 'code' in error ? String(error.code) : '';
}
