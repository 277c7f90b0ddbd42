/**
 * A reading as it is printed: `formatDecimal(1234.5, 1)` is '1,234.5', `formatDecimal(-4, 0)` is
 * '−4'. The minus is the one of `formatCents`. A value that rounds to nothing has no sign.
 *
 * @param decimals digits after the point, 0 to 4.
 */
export function formatDecimal(value: number, decimals: number): string {
  const [whole = '0', fraction] = Math.abs(value).toFixed(decimals).split('.');
  const magnitude = fraction === undefined ? group(whole) : `${group(whole)}.${fraction}`;
  return value < 0 && /[1-9]/.test(magnitude) ? `−${magnitude}` : magnitude;
}

function group(digits: string): string {
  return digits.replace(/\B(?=(\d{3})+$)/g, ',');
}
