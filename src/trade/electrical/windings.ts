import { combineInQuadrature } from '../uncertainty/combine-in-quadrature.ts';

type MeasuredOhms = { ohms: number; uncertaintyOhms: number };

export type WindingsVerdict =
  | 'consistent'
  /** Run to start is not the sum of the other two: a winding, or one of the three readings, is off. */
  | 'sum_off'
  /** Common to start is below common to run: two of the terminals were taken for each other. */
  | 'order_off'
  /** The sum fits, but the meter cannot tell start from run. */
  | 'undecided';

/**
 * Whether three readings on a single-phase compressor fit two windings in series: run to start is
 * the sum of the other two, and common to start is above common to run. 'sum_off' and 'order_off'
 * only beyond the joint uncertainty. An open winding shows no ohms and is no case for this; a hot
 * compressor may have its overload open, so that common reads open for hours.
 * Source: first principles for the sum; the order is common practice, no source.
 * Worked: common-run 0.8, common-start 2.1, run-start 2.9 ohm -> consistent.
 */
export function judgeWindings(readings: {
  commonRun: MeasuredOhms;
  commonStart: MeasuredOhms;
  runStart: MeasuredOhms;
}): WindingsVerdict {
  const { commonRun, commonStart, runStart } = readings;
  const sumError = runStart.ohms - (commonRun.ohms + commonStart.ohms);
  if (Math.abs(sumError) > joint(commonRun, commonStart, runStart)) return 'sum_off';
  const startOverRun = commonStart.ohms - commonRun.ohms;
  const orderDoubt = joint(commonRun, commonStart);
  if (startOverRun < -orderDoubt) return 'order_off';
  return startOverRun > orderDoubt ? 'consistent' : 'undecided';
}

function joint(...readings: readonly MeasuredOhms[]): number {
  return combineInQuadrature(...readings.map((each) => each.uncertaintyOhms));
}
