import { wrongField } from '../platform/http/problem.ts';
import { excludedPairs, type Observation, observationWords } from '../trade/index.ts';

/** `pointer` is its place in the request, unless it came before. */
type Seen = Omit<Observation, 'id' | 'equipmentId' | 'photoSha256'> & {
  equipmentId?: string | undefined;
  pointer?: string;
};

/**
 * Refuses two things that cannot both be so at one moment, where the request has one of them.
 * @param observations in the order they were recorded
 * @throws ProblemError 400 with both statements
 */
export function refuseExcluded(observations: readonly Seen[]): void {
  for (const { one, excluded } of excludedPairs(observations)) {
    const pointer = excluded.pointer ?? one.pointer;
    if (pointer === undefined) continue;
    const [first, second] = [one, excluded].map(({ code }) => observationWords[code].statement);
    const message = `cannot be so at the same moment: "${first}" and "${second}". Answer the wrong one with no.`;
    throw wrongField(pointer, 'excluded', message);
  }
}
