import { z } from 'zod';
import { keysOf } from './keys-of.ts';
import { airSigns } from './signs/air.ts';
import { controlSigns } from './signs/control.ts';
import { motorsSigns } from './signs/motors.ts';
import { powerSigns } from './signs/power.ts';
import { refrigerantSigns } from './signs/refrigerant.ts';
import type { SignWords } from './signs/sign.ts';

const allSigns = {
  ...powerSigns,
  ...controlSigns,
  ...motorsSigns,
  ...airSigns,
  ...refrigerantSigns,
} as const;

export const signCodeSchema = z.enum(keysOf(allSigns));
export type SignCode = z.infer<typeof signCodeSchema>;

/** The classes a sign can have: `SignClass<'superheat'>` is low, fine or high. */
export type SignClass<Code extends SignCode = SignCode> = {
  [Each in Code]: keyof (typeof allSigns)[Each]['usually'] & string;
}[Code];

/** What readings come to, in plain classes. */
export const signWords: Record<SignCode, SignWords> = allSigns;
