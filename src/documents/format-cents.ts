/**
 * The one way money is written on paper: `123456` is '$1,234.56', `-1510` is '−$15.10' and `-0` is
 * '$0.00'. The minus is U+2212 rather than a hyphen: it is as wide as a digit, and screen readers
 * say 'minus' where they pass over a hyphen in silence.
 *
 * @param amountCents whole US cents, negative for a discount or credit.
 * @throws RangeError when the amount is not a safe integer.
 */
export function formatCents(amountCents: number): string {
  if (!Number.isSafeInteger(amountCents)) {
    throw new RangeError(`Money must be a whole number of cents, not ${amountCents}.`);
  }
  const digits = String(Math.abs(amountCents)).padStart(3, '0');
  const dollars = digits.slice(0, -2).replace(/\B(?=(\d{3})+$)/g, ',');
  const sign = amountCents < 0 ? '−' : '';
  return `${sign}$${dollars}.${digits.slice(-2)}`;
}
