/** Exact fractions of whole numbers, always reduced, with the sign in the numerator. */
export interface Rational {
  n: bigint;
  d: bigint;
}

export function rational(n: bigint, d: bigint): Rational {
  if (d === 0n) throw new Error('division by zero');
  const sign = d < 0n ? -1n : 1n;
  let [a, b] = [n < 0n ? -n : n, d * sign];
  while (b !== 0n) [a, b] = [b, a % b];
  return a === 0n ? { n: 0n, d: 1n } : { n: (n * sign) / a, d: (d * sign) / a };
}

export function whole(value: number | bigint): Rational {
  return rational(BigInt(value), 1n);
}

export function decimal(text: string): Rational {
  const [integer = '0', fraction = ''] = text.split('.');
  return rational(BigInt(integer + fraction), 10n ** BigInt(fraction.length));
}

export function plus(a: Rational, b: Rational): Rational {
  return rational(a.n * b.d + b.n * a.d, a.d * b.d);
}

export function minus(a: Rational, b: Rational): Rational {
  return rational(a.n * b.d - b.n * a.d, a.d * b.d);
}

export function times(a: Rational, b: Rational): Rational {
  return rational(a.n * b.n, a.d * b.d);
}

export function divide(a: Rational, b: Rational): Rational {
  return rational(a.n * b.d, a.d * b.n);
}

export function less(a: Rational, b: Rational): boolean {
  return a.n * b.d < b.n * a.d;
}

export function smaller(a: Rational, b: Rational): Rational {
  return less(b, a) ? b : a;
}

/** Nearest whole cent of an amount that is not negative; an exact half goes up. */
export function halfUp(value: Rational): bigint {
  if (value.n < 0n) throw new Error('only positive amounts are rounded');
  const cents = value.n / value.d;
  return (value.n - cents * value.d) * 2n >= value.d ? cents + 1n : cents;
}
