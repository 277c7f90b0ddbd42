/** Bytes as letters that are read aloud and typed (RFC 4648, section 6), without the padding. */
export function base32(bytes: Uint8Array): string {
  const bits = [...bytes].map((byte) => byte.toString(2).padStart(8, '0')).join('');
  const groups = bits.match(/.{1,5}/g) ?? [];
  return groups.map((group) => LETTERS[Number.parseInt(group.padEnd(5, '0'), 2)]).join('');
}

const LETTERS = 'ABCDEFGHIJKLMNOPQRSTUVWXYZ234567';
