const btuPerHourPerTon = 12_000;

/** Cooling capacity by the plate's tons: 12,000 Btu/h each, by definition of the ton. */
export function nominalCapacityBtuPerHour(tons: number): number {
  return btuPerHourPerTon * tons;
}

/**
 * Percent of the nominal capacity that is delivered. Real capacity falls as the outdoor air gets
 * hotter, so less than 100 on a hot day is no fault by itself.
 * Worked: 44,712 Btu/h of 4 tons -> 93.15 %.
 */
export function shareOfNominalPercent(deliveredBtuPerHour: number, tons: number): number {
  return (deliveredBtuPerHour / nominalCapacityBtuPerHour(tons)) * 100;
}

/**
 * Cooling airflow that fits the tons, in CFM. Source: 400 per ton from a parts catalog's data page;
 * the range 350 to 450 is common practice, no source. Worked: 3 tons -> 1,050, 1,200, 1,350.
 */
export function nominalAirflowCfm(tons: number): { low: number; usual: number; high: number } {
  return { low: 350 * tons, usual: 400 * tons, high: 450 * tons };
}

/**
 * Tons by the three digits of a model number that stand for thousands of Btu/h, or undefined for
 * digits that stand for none. Common practice, no source. Worked: '036' -> 3.
 */
export function tonsOfModelDigits(digits: string): number | undefined {
  return tonsByDigits.get(digits);
}

const tonsByDigits: ReadonlyMap<string, number> = new Map([
  ['018', 1.5],
  ['024', 2],
  ['030', 2.5],
  ['036', 3],
  ['042', 3.5],
  ['048', 4],
  ['060', 5],
]);
