/** Writes bytes as base64url without padding (RFC 7515, section 2). */
export function toBase64Url(bytes: Uint8Array): string {
  return Buffer.from(bytes).toString('base64url');
}

/**
 * Reads base64url, and only the one spelling that `toBase64Url` has for the bytes: a decoder that
 * overlooks stray letters or loose last bits would take many texts for the same signature.
 * @returns undefined for any other text
 */
export function fromBase64Url(text: string): Uint8Array | undefined {
  const bytes = Buffer.from(text, 'base64url');
  return bytes.toString('base64url') === text ? new Uint8Array(bytes) : undefined;
}
