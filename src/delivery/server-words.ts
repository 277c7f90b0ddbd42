const LENGTH_MAX = 300;

/**
 * What a server said, fit to be kept and shown: one line, not endless, without characters that a
 * screen obeys, and without the address it was about. That one is personal and stands where it can
 * be erased.
 */
export function serverWords(said: string, address: string): string {
  const line = said.replace(/[\p{Cc}\p{Cf}\p{Zl}\p{Zp}\s]+/gu, ' ').trim();
  const nameless = address === '' ? line : withoutAddress(line, address);
  return nameless.length <= LENGTH_MAX ? nameless : `${nameless.slice(0, LENGTH_MAX - 1)}…`;
}

// Servers repeat the address in their own spelling of upper and lower case.
function withoutAddress(line: string, address: string): string {
  const escaped = address.replace(/[.*+?^${}()|[\]\\]/g, '\\$&');
  return line.replace(new RegExp(escaped, 'gi'), '[the address]');
}
