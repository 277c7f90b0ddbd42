/**
 * Whole cents as dollars in a cell, without a dollar sign or commas: 1840 -> '18.40', -5 -> '-0.05'.
 * Exact, never by way of a binary fraction.
 */
export function writeDollars(amountCents: number | bigint): string {
  const sign = amountCents < 0 ? '-' : '';
  const digits = String(amountCents).replace('-', '').padStart(3, '0');
  return `${sign}${digits.slice(0, -2)}.${digits.slice(-2)}`;
}
