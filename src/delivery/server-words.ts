import { domainToASCII, domainToUnicode } from 'node:url';

const LENGTH_MAX = 300;

/**
 * What a server said, fit to be kept and shown: one line, not endless, without characters that a
 * screen obeys, and without the address it was about, in either spelling of its domain, or the phone
 * number, however its digits are set apart. That one is personal and stands where it can be erased.
 */
export function serverWords(said: string, address: string): string {
  const line = said.replace(/[\p{Cc}\p{Cf}\p{Zl}\p{Zp}\s]+/gu, ' ').trim();
  const nameless = address === '' ? line : withoutAddress(line, address);
  return nameless.length <= LENGTH_MAX ? nameless : `${nameless.slice(0, LENGTH_MAX - 1)}…`;
}

// Servers repeat the address in their own spelling of upper and lower case.
function withoutAddress(line: string, address: string): string {
  const escaped = spellingsOf(address).map((each) => each.replace(/[.*+?^${}()|[\]\\]/g, '\\$&'));
  // The longer ones first, or a piece would be left beside what was taken out.
  const patterns = [...numberPatterns(address), ...escaped];
  return line.replace(new RegExp(patterns.join('|'), 'gi'), '[the address]');
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

/** Fewer digits are no number of a person's, and stand in many an error code. */
const DIGITS_MIN = 7;

// Gateways quote a number in a form of their own, mostly that of ITU-T E.164, with the code of the
// country where ours has none, or the other way round. Such a code has up to three digits.
function numberPatterns(address: string): string[] {
  if (address.includes('@')) return [];
  const digits = address.replace(/\D/g, '');
  const codeLengths = /^\s*(?:\+|0|\(\+)/.test(address) ? [0, 1, 2, 3] : [0];
  return codeLengths
    .map((length) => digits.slice(length))
    .filter(({ length }) => length >= DIGITS_MIN)
    .map((each) => `${COUNTRY_CODE}${[...each].join('\\D{0,3}')}`);
}

const COUNTRY_CODE = '(?:(?:\\+|\\b00)\\d{1,3}\\D{0,3}|\\b1[ .-]?)?';
