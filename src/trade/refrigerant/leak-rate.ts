/**
 * Leak rate in percent of the full charge per year, annualizing method, at an addition of
 * refrigerant; undefined unless days and full charge are above 0. Days since the last addition
 * count as 365 at most. Source: definition of leak rate in 40 CFR 82.152, as a public study page
 * reports it.
 * Worked: 60 lb, 4 lb added after 120 days -> 20.28 %; after 500 days -> 6.67 %.
 */
export function annualizedLeakRatePercent(addition: {
  addedLb: number;
  fullChargeLb: number;
  daysSinceLastAddition: number;
}): number | undefined {
  const days = Math.min(addition.daysSinceLastAddition, daysOfYear);
  if (!(days > 0 && addition.fullChargeLb > 0)) return undefined;
  return ((100 * addition.addedLb) / addition.fullChargeLb) * (daysOfYear / days);
}

/**
 * Leak rate in percent of the full charge, rolling method: all that was added within the last 365
 * days, or since the leaks were last repaired and verified if that is shorter; what went in on the
 * day of that repair replaces what the repair took out and does not count. Undefined unless the
 * full charge is above 0. Source: as above.
 * Worked: 60 lb, 4 lb and 2 lb within the year -> 10.0 %.
 */
export function rollingLeakRatePercent(
  additions: readonly { addedLb: number; daysAgo: number }[],
  fullChargeLb: number,
  daysSinceRepair?: number,
): number | undefined {
  if (!(fullChargeLb > 0)) return undefined;
  const counted = additions.filter(
    ({ daysAgo }) => daysAgo <= daysOfYear && daysAgo < (daysSinceRepair ?? Infinity),
  );
  return (100 * counted.reduce((sum, { addedLb }) => sum + addedLb, 0)) / fullChargeLb;
}

const daysOfYear = 365;
