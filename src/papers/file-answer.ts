import type { AnsweredFile } from '../platform/http/route.ts';
import type { StoredFile } from './file-of.ts';

/** A stored file as the answer of a route. */
export function fileAnswer({ bytes, sha256, fileName }: StoredFile): AnsweredFile {
  return { bytes, mediaType: 'application/pdf', etag: `"${sha256}"`, fileName };
}
