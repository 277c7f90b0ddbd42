import { formatDecimal } from './format-decimal.ts';

/**
 * An uncertainty as it is printed beside its reading: with the reading's decimals, or as many more
 * (four at most) as it takes not to read '0', which would claim an exactness that no instrument has.
 * None at all when there is none to tell.
 */
export function formatUncertainty(
  uncertainty: number | undefined,
  decimals: number,
): string | undefined {
  if (uncertainty === undefined) return undefined;
  for (let shown = decimals; shown <= 4; shown += 1) {
    const text = formatDecimal(uncertainty, shown);
    if (/[1-9]/.test(text)) return text;
  }
  return undefined;
}
