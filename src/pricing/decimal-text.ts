import type { Ratio } from './ratio.ts';

/** A number written out: as it is where it ends within the digits asked for, else rounded. */
export interface DecimalText {
  readonly text: string;
  readonly isExact: boolean;
}

/**
 * A fraction as a decimal with exactly `digits` digits after the point, an exact half away from
 * zero. It is for reading, never for reckoning on: what is reckoned stays a fraction.
 *
 *     2/3 with 4 -> '0.6667', not exact     1/8 with 4 -> '0.1250', exact     -1/8 with 2 -> '-0.13'
 */
export function decimalText({ numerator, denominator }: Ratio, digits: number): DecimalText {
  const scaled = absolute(numerator) * 10n ** BigInt(digits);
  const rounded = (2n * scaled + denominator) / (2n * denominator);
  const padded = String(rounded).padStart(digits + 1, '0');
  const whole = padded.slice(0, padded.length - digits);
  const fraction = digits === 0 ? '' : `.${padded.slice(-digits)}`;
  const sign = numerator < 0n && rounded !== 0n ? '-' : '';
  return { text: `${sign}${whole}${fraction}`, isExact: scaled % denominator === 0n };
}

function absolute(value: bigint): bigint {
  return value < 0n ? -value : value;
}
