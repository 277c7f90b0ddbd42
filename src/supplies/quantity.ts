/**
 * A quantity of pieces, or of the book's unit, in thousandths, so that sums and comparisons are
 * exact: '2.5' -> 2500n, '-12' -> -12000n. The text comes from a schema or from the database.
 */
export function thousandthsOf(quantity: string): bigint {
  const [whole = '0', fraction = ''] = quantity.split('.');
  return BigInt(whole + fraction.padEnd(3, '0'));
}

/** 2500n -> '2.5', -12000n -> '-12', 5n -> '0.005'. */
export function quantityText(thousandths: bigint): string {
  const sign = thousandths < 0n ? '-' : '';
  const digits = String(thousandths < 0n ? -thousandths : thousandths).padStart(4, '0');
  const fraction = digits.slice(-3).replace(/0+$/, '');
  return `${sign}${digits.slice(0, -3)}${fraction === '' ? '' : `.${fraction}`}`;
}

/** Whether a quantity is one of pieces: '3' and '3.000' are, '2.5' is not. */
export function isWhole(quantity: string): boolean {
  return thousandthsOf(quantity) % 1000n === 0n;
}
