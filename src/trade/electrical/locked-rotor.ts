export type RunningAmpsVerdict = 'far_below' | 'normal' | 'above_rla' | 'near_lra' | 'undecided';

/**
 * What a compressor's amps say beside its rated-load amps (RLA) and locked-rotor amps (LRA):
 * `near_lra` is a motor that does not turn (test its capacitor before condemning it), `above_rla`
 * a sustained overload at normal voltage, `normal` a load below the rating, which is where a
 * healthy one runs, and `far_below` hardly any load. Near a border, by the meter's uncertainty:
 * undecided. Where the plate has no LRA, the least usual one, four times RLA, stands for it.
 * Source: common practice, no source; locked rotors draw 4 to 7 times RLA.
 * Worked: 108 A at RLA 17.9, LRA 112 -> near_lra.
 */
export function judgeRunningAmps(compressor: {
  amps: number;
  uncertaintyAmps: number;
  rlaAmps: number;
  lraAmps?: number | undefined;
}): RunningAmpsVerdict {
  const { amps, uncertaintyAmps, rlaAmps, lraAmps = 4 * rlaAmps } = compressor;
  const borders = [farBelowShareOfRla * rlaAmps, rlaAmps, nearShareOfLra * lraAmps] as const;
  const [least, most] = [amps - uncertaintyAmps, amps + uncertaintyAmps];
  const verdict = classOf(least, borders);
  return verdict === classOf(most, borders) ? verdict : 'undecided';
}

/**
 * Rated-load amps by a compressor's maximum continuous amps. RLA is thus a rating, not the reading
 * to expect. Source: from memory of UL 1995 and 60335 practice. Worked: 27.9 -> 17.88, plate 17.9.
 */
export function ratedLoadAmps(maximumContinuousAmps: number): number {
  return maximumContinuousAmps / 1.56;
}

/** Two stages and mild days reach down to half the rating; common practice, no source. */
const farBelowShareOfRla = 0.4;

/** Locked-rotor amps fall with the voltage, some 15 % on a sagging supply; common practice. */
const nearShareOfLra = 0.75;

function classOf(
  amps: number,
  [farBelow, rla, nearLra]: readonly [number, number, number],
): Exclude<RunningAmpsVerdict, 'undecided'> {
  if (amps < farBelow) return 'far_below';
  if (amps <= rla) return 'normal';
  return amps < nearLra ? 'above_rla' : 'near_lra';
}
