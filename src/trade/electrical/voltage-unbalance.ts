type ThreeVolts = readonly [number, number, number];

/**
 * How uneven three line-to-line voltages are: the largest deviation from their average, in percent
 * of it. Nothing is rounded on the way; rounding 5.33 / 208.33 early prints 2.5 for 2.56.
 * Source: NEMA MG-1, as a motor protector's manual quotes it. Worked: 460, 467, 450 -> 1.96 %.
 */
export function voltageUnbalancePercent(lineToLineVolts: ThreeVolts): number {
  const average = lineToLineVolts.reduce((sum, volts) => sum + volts, 0) / 3;
  const deviations = lineToLineVolts.map((volts) => Math.abs(volts - average));
  return (Math.max(...deviations) / average) * 100;
}

/**
 * Uncertainty of the unbalance in percent, from that of each voltage. One meter's percent error
 * lifts all three alike and cancels, so `uncertaintyVolts` is what differs between the readings:
 * the counts of the display. A deviation is two thirds of one voltage less a third of the others.
 */
export function unbalanceUncertaintyPercent(
  lineToLineVolts: ThreeVolts,
  uncertaintyVolts: number,
): number {
  const average = lineToLineVolts.reduce((sum, volts) => sum + volts, 0) / 3;
  return ((Math.sqrt(2 / 3) * uncertaintyVolts) / average) * 100;
}

export type UnbalanceVerdict = 'even' | 'derate' | 'do_not_operate' | 'undecided';

/**
 * Above 1 % a motor is derated, above 5 % it must not run; 'undecided' where the doubt reaches over
 * a limit. Source: from memory of NEMA MG-1 14.36.
 */
export function judgeUnbalance(unbalance: {
  percent: number;
  uncertaintyPercent: number;
}): UnbalanceVerdict {
  const least = classOf(unbalance.percent - unbalance.uncertaintyPercent);
  const most = classOf(unbalance.percent + unbalance.uncertaintyPercent);
  return least === most ? least : 'undecided';
}

/** Extra heat in the windings, in percent. Source: from memory of NEMA MG-1. Worked: 3 % -> 18 %. */
export function addedHeatingPercent(unbalancePercent: number): number {
  return 2 * unbalancePercent ** 2;
}

function classOf(unbalancePercent: number): Exclude<UnbalanceVerdict, 'undecided'> {
  if (unbalancePercent > 5) return 'do_not_operate';
  return unbalancePercent > 1 ? 'derate' : 'even';
}
