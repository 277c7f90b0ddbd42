import type { Observation } from './evidence.ts';
import { observationWords } from './words/observations.ts';

type Seen = Pick<Observation, 'equipmentId' | 'code' | 'answer' | 'phase' | 'source' | 'at'>;

/**
 * The things found on one machine within a minute of each other that cannot both be so, such as a
 * drain pan that is full and dry: one of the two answers is a slip. The last answer to each
 * counts, so that a slip is corrected by answering once more.
 * @param observations in the order they were recorded
 */
export function excludedPairs<S extends Seen>(
  observations: readonly S[],
): { one: S; excluded: S }[] {
  const found = lastAnswers(observations).filter(({ answer }) => answer === 'yes');
  return found.flatMap((one) => {
    const { excludes } = observationWords[one.code];
    return found
      .filter((each) => each.code === excludes && isOfSameMoment(one, each))
      .map((excluded) => ({ one, excluded }));
  });
}

function lastAnswers<S extends Seen>(observations: readonly S[]): S[] {
  const found = observations
    .filter(({ phase }) => phase === 'found')
    .toSorted((a, b) => Date.parse(a.at) - Date.parse(b.at));
  return [
    ...new Map(found.map((each) => [[each.code, each.equipmentId, each.source].join(), each])),
  ].map(([, last]) => last);
}

const momentMilliseconds = 60_000;

function isOfSameMoment(one: Seen, other: Seen): boolean {
  return (
    one.equipmentId === other.equipmentId &&
    one.source === other.source &&
    Math.abs(Date.parse(one.at) - Date.parse(other.at)) <= momentMilliseconds
  );
}
