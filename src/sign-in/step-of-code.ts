import { timingSafeEqual } from 'node:crypto';
import { codeOfStep, stepAt } from './code-of-step.ts';

/**
 * The step at which a code is right: that of now, or the one before or after it, for clocks differ
 * and typing takes a while (RFC 6238, sections 5.2 and 6). Of two that fit it is the later one, so
 * that a code which was used leaves none behind.
 * @returns undefined for a wrong code
 */
export function stepOfCode(secret: Uint8Array, code: string, now: Date): number | undefined {
  const step = stepAt(now);
  return [step + DRIFT_STEPS, step, step - DRIFT_STEPS].find(
    (each) => each >= 0 && isSame(codeOfStep(secret, each), code),
  );
}

const DRIFT_STEPS = 1;

function isSame(right: string, typed: string): boolean {
  const [one, other] = [Buffer.from(right), Buffer.from(typed)];
  return one.length === other.length && timingSafeEqual(one, other);
}
