/** The forms a photo may come in. */
export const photoMediaTypes = ['image/jpeg', 'image/png', 'image/webp'] as const;
export type PhotoMediaType = (typeof photoMediaTypes)[number];

export const photoExtension: Record<PhotoMediaType, string> = {
  'image/jpeg': 'jpg',
  'image/png': 'png',
  'image/webp': 'webp',
};

/**
 * What an image is by its first bytes, whatever its sender calls it; undefined for anything else.
 * Signatures: ITU-T T.81 (JPEG, SOI and a marker), W3C PNG section 5.2, RFC 9649 (WebP in RIFF).
 */
export function photoMediaTypeOf(bytes: Uint8Array): PhotoMediaType | undefined {
  const head = Buffer.from(bytes.subarray(0, 12)).toString('latin1');
  if (head.startsWith('\xff\xd8\xff')) return 'image/jpeg';
  if (head.startsWith('\x89PNG\r\n\x1a\n')) return 'image/png';
  if (head.startsWith('RIFF') && head.endsWith('WEBP')) return 'image/webp';
  return undefined;
}
