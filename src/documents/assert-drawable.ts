import type { PaperMeasurement } from './paper-parts.ts';
import { PaperRefused } from './paper-refused.ts';

/**
 * Refuses a reading that no gauge can show truly.
 * @throws PaperRefused
 */
export function assertDrawable(measurement: PaperMeasurement): void {
  const { label, value, low, high, uncertainty, decimals, limitDecimals = decimals } = measurement;
  const numbers = [value, low ?? 0, high ?? 0, uncertainty ?? 0];
  if (!numbers.every((number) => Math.abs(number) < READING_MAX)) {
    throw new PaperRefused(`'${label}' has a number that cannot be drawn.`);
  }
  if (low !== undefined && high !== undefined && low > high) {
    throw new PaperRefused(`'${label}' has its lower limit above its upper one.`);
  }
  for (const asked of [decimals, limitDecimals]) {
    if (!Number.isInteger(asked) || asked < 0 || asked > 4) {
      throw new PaperRefused(`'${label}' asks for ${asked} decimals; 0 to 4 can be printed.`);
    }
  }
  if ((uncertainty ?? 0) < 0) {
    throw new PaperRefused(`'${label}' has a negative uncertainty.`);
  }
}

/** No reading of the trade comes near it; a wider number would not fit beside its gauge. */
const READING_MAX = 1e9;
