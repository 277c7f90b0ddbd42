import type { Facts } from '../facts/admit-evidence.ts';
import { measuredFrom, readingsAt, show } from '../facts/measured.ts';
import { isObserved } from '../facts/observed.ts';
import { type ObservationCode, observationWords } from '../words/observations.ts';
import { type PointCode, pointWords } from '../words/points.ts';
import type { Criterion, Weighed } from './verdict.ts';
import { weighObservation } from './weigh-observation.ts';

/**
 * A criterion met by a winding or coil that reads open (OL). A resistance measured at the same
 * place denies it, until it read open twice since; so does what it drives, last seen running. A
 * winding that read open hot and has ohms once it cooled was opened by its protector.
 */
export function weighReadsOpen(
  facts: Facts,
  sign: Pick<Criterion, 'id' | 'direction' | 'weight'> & {
    code: ObservationCode;
    /** Where its resistance is measured. */
    point: PointCode;
    /** What does not run while it is open. */
    running?: ObservationCode;
  },
): Weighed {
  const { code, point, running } = sign;
  const weighed = weighObservation(facts, sign);
  if (weighed.criterion.outcome !== 'met') return weighed;
  const reading = readingsAt(facts, point, 'resistance').at(-1);
  const { statement } = observationWords[code];
  if (reading !== undefined && looksSince(facts, code, reading.takenAt) < 2) {
    const found = `${show(measuredFrom(reading))}, ${pointWords[point].name}`;
    return denied(weighed, `${statement}, and ${found}: the two disagree, measure again, cold.`, [
      reading.id,
    ]);
  }
  if (running === undefined || !isObserved(facts, running)) return weighed;
  const runs = observationWords[running].statement;
  return denied(weighed, `${statement}, and "${runs}": yes. Look and measure again.`, []);
}

function looksSince(facts: Facts, code: ObservationCode, takenAt: string): number {
  const isSince = ({ at }: { at: string }) => Date.parse(at) > Date.parse(takenAt);
  return facts.observations.filter((each) => each.code === code && isSince(each)).length;
}

function denied(weighed: Weighed, detail: string, readingIds: readonly string[]): Weighed {
  return {
    ...weighed,
    criterion: {
      ...weighed.criterion,
      outcome: 'undecided',
      detail,
      readingIds: [...weighed.criterion.readingIds, ...readingIds],
    },
    readingsDisagree: true,
  };
}
