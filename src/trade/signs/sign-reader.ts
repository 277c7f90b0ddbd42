import type { Facts } from '../facts/admit-evidence.ts';
import type { SignClass, SignCode } from '../words/signs.ts';

/** Puts what is measured into one of the sign's classes; undefined while it cannot be told. */
export type SignReader<Code extends SignCode> = (facts: Facts) => SignClass<Code> | undefined;
