/**
 * An amount in cents as people and spreadsheets write dollars: 18.4, 18.40, $1,234.50. Commas stand
 * before every third digit or nowhere. Exact, never by way of a binary fraction.
 * @param cell trimmed
 * @param options.signed whether the amount may be negative: -12.00 or -$12.00
 * @returns undefined for what is no such amount, or is a trillion dollars and more
 */
export function readDollars(
  cell: string,
  { signed = false }: { signed?: boolean } = {},
): number | undefined {
  const { sign, whole, fraction = '' } = DOLLARS.exec(cell)?.groups ?? {};
  if (whole === undefined || (sign === '-' && !signed)) return undefined;
  const amountCents = Number(whole.replaceAll(',', '') + fraction.padEnd(2, '0'));
  // Taking it from zero keeps -0.00 from being minus zero.
  return sign === '-' ? 0 - amountCents : amountCents;
}

const DOLLARS =
  /^(?<sign>-?)\$?(?<whole>\d{1,12}|[1-9]\d{0,2}(?:,\d{3}){1,3})(?:\.(?<fraction>\d{1,2}))?$/;
