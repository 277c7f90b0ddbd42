import { adjustedTogether } from '../statistics/adjusted-together.ts';
import {
  type Comparison,
  compareWithOthers,
  FALSE_SHARE_MAX,
} from '../statistics/compare-with-others.ts';
import { tooFew } from '../statistics/too-few.ts';
import { countBunched, type DecisiveReading } from './count-bunched.ts';
import { countLater, type QuotedReading } from './count-later.ts';
import { countRepeated, type TakenValue } from './count-repeated.ts';
import type { CountedReadings } from './reading-counter.ts';

/** Everything that is looked at together, each in the order in which it was read. */
export interface ReadingsToJudge {
  readonly decisive: Iterable<DecisiveReading>;
  readonly taken: Iterable<TakenValue>;
  readonly quoted: Iterable<QuotedReading>;
}

export interface ReadingPattern {
  readonly what: 'bunched' | 'repeated' | 'after_quote';
  readonly rows: readonly ReadingPatternRow[];
}

export interface ReadingPatternRow extends Comparison {
  readonly sentence: string;
  /** The newest of those that were counted, for whoever looks at the files. */
  readonly readingIds: readonly string[];
}

/**
 * Readings that look as if nobody had measured: just past the limit that sells a part, the same to
 * the last digit from home to home, or taken when the quote was written already. Each technician
 * beside all the others on the same kind of reading; a flag asks for a look at the files, where there
 * may be a good reason: one meter that always reads low, a batch of bad capacitors.
 */
export function readingPatterns({ decisive, taken, quoted }: ReadingsToJudge): ReadingPattern[] {
  const counted = [
    { what: 'bunched', by: countBunched(decisive) },
    { what: 'repeated', by: countRepeated(taken) },
    { what: 'after_quote', by: countLater(quoted) },
  ] as const;
  const compared = adjustedTogether(
    counted.map(({ by }) => compareWithOthers([...by.values()].map((one) => one.counted))),
    FALSE_SHARE_MAX,
  );
  return counted.map(({ what, by }, at) => ({
    what,
    rows: (compared[at] ?? []).map((row) => ({
      ...row,
      sentence: sentenceOf(row, what),
      readingIds: idsOf(by, row),
    })),
  }));
}

const words = {
  bunched: 'readings that decide a capacitor lie within 1 % just past the limit',
  repeated: 'pairs of readings at two homes are alike to the last digit',
  after_quote: 'readings that a quote rests on were taken after it was issued',
} as const;

function sentenceOf(row: Comparison, what: ReadingPattern['what']): string {
  const { ownCount, ownTrials, count, trials, expectedCount, standing } = row;
  if (standing === 'not_enough_data') {
    return `${ownCount} of ${ownTrials} ${words[what]}. ${tooFew(row)}`;
  }
  const found = `${count} of ${trials} ${words[what]}.`;
  const others = `The others come to ${expectedCount.toFixed(1)} on the same readings.`;
  if (standing === 'like_others') return `${found} ${others}`;
  return `${found} ${others} Please look at the files of these jobs.`;
}

function idsOf(by: ReadonlyMap<string, CountedReadings>, { subject }: Comparison) {
  return by.get(subject)?.readingIds ?? [];
}
