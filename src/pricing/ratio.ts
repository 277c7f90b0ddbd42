/**
 * An exact number: numerator over a positive denominator. It is not reduced: a price needs only a
 * few multiplications, and finding common divisors costs more than it saves.
 */
export interface Ratio {
  readonly numerator: bigint;
  readonly denominator: bigint;
}

/**
 * The exact value of a decimal text such as '0.0825' or '1.5'. The text comes from a schema of
 * this folder, so it has digits, at most one point, and no sign.
 */
export function ratioOf(decimal: string): Ratio {
  const point = decimal.indexOf('.');
  if (point < 0) return { numerator: BigInt(decimal), denominator: 1n };
  return {
    numerator: BigInt(decimal.slice(0, point) + decimal.slice(point + 1)),
    denominator: 10n ** BigInt(decimal.length - point - 1),
  };
}

export function wholeRatio(value: number): Ratio {
  return { numerator: BigInt(value), denominator: 1n };
}

export function multiply(a: Ratio, b: Ratio): Ratio {
  return {
    numerator: a.numerator * b.numerator,
    denominator: a.denominator * b.denominator,
  };
}

export function add(a: Ratio, b: Ratio): Ratio {
  if (a.denominator === b.denominator) {
    return { numerator: a.numerator + b.numerator, denominator: a.denominator };
  }
  return {
    numerator: a.numerator * b.denominator + b.numerator * a.denominator,
    denominator: a.denominator * b.denominator,
  };
}

/** Negative when a is smaller, zero when equal, positive when a is larger. */
export function compare(a: Ratio, b: Ratio): number {
  const left = a.numerator * b.denominator;
  const right = b.numerator * a.denominator;
  if (left === right) return 0;
  return left < right ? -1 : 1;
}
