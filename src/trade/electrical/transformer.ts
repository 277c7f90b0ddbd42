/**
 * The current a control transformer can give, in amps. First principles: I = VA / V.
 * Worked: 40 VA at 24 V -> 1.667 A.
 */
export function secondaryAmps(ratedVa: number): number {
  return ratedVa / controlVoltsNominal;
}

/**
 * What hangs on a transformer, added up in VA and in percent of its rating; more than 100 % is an
 * overload. Accessories may exceed the usual 40 VA (a manufacturer's manual).
 * Worked: 9 + 5 + 1 + 10 VA on 40 -> 25 VA, 62.5 %.
 */
export function transformerLoad(
  loadsVa: readonly number[],
  ratedVa: number,
): { loadVa: number; percentOfRating: number } {
  const loadVa = loadsVa.reduce((sum, each) => sum + each, 0);
  return { loadVa, percentOfRating: (loadVa / ratedVa) * 100 };
}

const controlVoltsNominal = 24;
