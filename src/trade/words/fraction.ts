/** An exact ratio of two integers; `under` is positive. */
export type Fraction = { over: bigint; under: bigint };

/** The exact value of a decimal text such as -0.35, 12 or 1.5e-7. */
export function decimal(text: string): Fraction {
  const [digits = '', exponent = '0'] = text.split('e');
  const [whole = '', decimals = ''] = digits.split('.');
  const power = Number(exponent) - decimals.length;
  const over = BigInt(whole + decimals);
  return power < 0
    ? { over, under: 10n ** BigInt(-power) }
    : { over: over * 10n ** BigInt(power), under: 1n };
}

export function multiply(a: Fraction, b: Fraction): Fraction {
  return { over: a.over * b.over, under: a.under * b.under };
}

/** By a fraction above zero. */
export function divide(a: Fraction, b: Fraction): Fraction {
  return { over: a.over * b.under, under: a.under * b.over };
}

export function add(a: Fraction, b: Fraction): Fraction {
  return { over: a.over * b.under + b.over * a.under, under: a.under * b.under };
}

export function subtract(a: Fraction, b: Fraction): Fraction {
  return add(a, { over: -b.over, under: b.under });
}

/**
 * The double nearest to a fraction above or below zero; `under` is positive. The quotient is taken
 * to 64 bits or more, and a last bit says whether anything was cut off. JavaScript then rounds the
 * integer to the nearest double, half to even, and scaling by a power of two changes no digit.
 */
export function nearestDouble({ over, under }: Fraction): number {
  if (over < 0n) return -nearestDouble({ over: -over, under });
  const shift = Math.max(0, 64 + bitLength(under) - bitLength(over));
  const shifted = over << BigInt(shift);
  const isCut = shifted % under !== 0n;
  const quotient = ((shifted / under) << 1n) | (isCut ? 1n : 0n);
  return Number(quotient) * 2 ** -(shift + 1);
}

function bitLength(positive: bigint): number {
  return positive.toString(2).length;
}
