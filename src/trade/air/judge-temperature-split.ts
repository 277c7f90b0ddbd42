import { compareWithBand } from '../uncertainty/compare-with-band.ts';

export type TemperatureSplitVerdict = 'low_airflow' | 'on_target' | 'low_capacity' | 'undecided';

/**
 * What a split says beside its target: more than 3 F above it, too little air passes the coil; more
 * than 3 F below it, airflow passes but the capacity is likely low (charge, compressor). Within the
 * uncertainty of a limit: undecided. The uncertainty is that of the split and, between the points
 * of the table, that of the target.
 * Source: California Title 24 appendix RA3.2 (2008): an installer's limits and the reading of a low
 * split; that a high one fails is from memory.
 * Worked: 14.0 at a target of 18.6, good to 1.4 F -> low_capacity.
 */
export function judgeTemperatureSplit(split: {
  splitDegF: number;
  uncertaintyDegF: number;
  targetDegF: number;
}): TemperatureSplitVerdict {
  const verdict = compareWithBand(
    { value: split.splitDegF - split.targetDegF, uncertainty: split.uncertaintyDegF },
    { low: -splitToleranceDegF, high: splitToleranceDegF },
  );
  return verdicts[verdict];
}

export const splitToleranceDegF = 3;

const verdicts = {
  above: 'low_airflow',
  inside: 'on_target',
  below: 'low_capacity',
  undecided: 'undecided',
} as const;
