import { domainToASCII, domainToUnicode } from 'node:url';

const LENGTH_MAX = 300;

/**
 * What a server said, fit to be kept and shown: one line, not endless, without characters that a
 * screen obeys, and without the address it was about, in either spelling of its domain. That one is
 * personal and stands where it can be erased.
 */
export function serverWords(said: string, address: string): string {
  const line = said.replace(/[\p{Cc}\p{Cf}\p{Zl}\p{Zp}\s]+/gu, ' ').trim();
  const nameless = address === '' ? line : withoutAddress(line, address);
  return nameless.length <= LENGTH_MAX ? nameless : `${nameless.slice(0, LENGTH_MAX - 1)}…`;
}

// Servers repeat the address in their own spelling of upper and lower case.
function withoutAddress(line: string, address: string): string {
  const escaped = spellingsOf(address).map((each) => each.replace(/[.*+?^${}()|[\]\\]/g, '\\$&'));
  return line.replace(new RegExp(escaped.join('|'), 'gi'), '[the address]');
}

/** A domain beyond ASCII goes over the line as `xn--...` (RFC 5891), and is quoted so as well. */
function spellingsOf(address: string): string[] {
  const at = address.lastIndexOf('@');
  if (at === -1) return [address];
  const [name, domain] = [address.slice(0, at + 1), address.slice(at + 1)];
  // Neither spells what is no domain.
  const other = [domainToASCII(domain), domainToUnicode(domain)].filter((each) => each !== '');
  return [address, ...other.map((each) => `${name}${each}`)];
}
