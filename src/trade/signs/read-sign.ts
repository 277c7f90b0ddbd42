import type { Facts } from '../facts/admit-evidence.ts';
import type { SignCode } from '../words/signs.ts';
import type { SignReader } from './sign-reader.ts';

const readers: { readonly [Code in SignCode]?: SignReader<Code> } = {};

/** The class of a sign that these facts show; undefined while it cannot be told. */
export function readSign(code: SignCode, facts: Facts): string | undefined {
  return readers[code]?.(facts);
}
