import { z } from 'zod';
import type { CheckWords } from './checks/check.ts';
import { controlChecks } from './checks/control.ts';
import { motorsChecks } from './checks/motors.ts';
import { powerChecks } from './checks/power.ts';
import { refrigerantChecks } from './checks/refrigerant.ts';
import { watchingChecks } from './checks/watching.ts';
import { keysOf } from './keys-of.ts';

const allChecks = {
  ...watchingChecks,
  ...powerChecks,
  ...controlChecks,
  ...motorsChecks,
  ...refrigerantChecks,
} as const;

export const checkCodeSchema = z.enum(keysOf(allChecks));
export type CheckCode = z.infer<typeof checkCodeSchema>;

/** What a technician can do to learn more. */
export const checkWords: Record<CheckCode, CheckWords> = allChecks;
