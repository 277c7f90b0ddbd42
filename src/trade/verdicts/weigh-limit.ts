import { type Measured, type Settled, show, showValue } from '../facts/measured.ts';
import { compareWithLimit } from '../uncertainty/compare-with-limit.ts';
import type { MeasuredLabel } from '../words/measured-labels.ts';
import type { DrawnMeasurement, Weighed } from './verdict.ts';
import { type Decision, weighMeasurement } from './weigh-measurement.ts';
import type { CriterionHead } from './weigh-observation.ts';

/** Something that must be so before a value says anything, such as a motor that runs. */
export type Provided = {
  holds: boolean;
  /** What to do, or why the value says nothing, where it does not hold. */
  otherwise: string;
  observationIds?: readonly string[];
  readingIds?: readonly string[];
};

/**
 * A criterion met when one settled value lies surely above (or below) one limit, and not met when
 * it lies surely on the other side. Within the method's uncertainty of the limit it is undecided.
 */
export function weighLimit(
  head: CriterionHead,
  settled: Settled,
  rule: {
    /** What the value is, for papers: 'Voltage at the coil'. */
    label: MeasuredLabel;
    metWhen: 'above' | 'below';
    limit: number;
    /** Why this is the limit: 'the nameplate allows'. */
    because?: string;
    rated?: number;
    provided?: readonly Provided[];
  },
): Weighed {
  return weighMeasurement(head, settled, (measured) => decide(measured, rule));
}

function decide(measured: Measured, rule: Parameters<typeof weighLimit>[2]): Decision {
  const { provided = [], metWhen, limit } = rule;
  const missing = provided.find(({ holds }) => !holds);
  const { readingIds, observationIds } = restsOn(provided);
  if (missing !== undefined) {
    const detail = `${show(measured)}; ${missing.otherwise}.`;
    return { outcome: 'undecided', detail, readingIds, observationIds };
  }
  const side = compareWithLimit(measured, limit);
  return {
    outcome: side === 'within' ? 'undecided' : side === metWhen ? 'met' : 'not_met',
    detail: sentence(measured, rule, side === 'within'),
    measurement: measurementOf(measured, rule),
    readingIds,
    observationIds,
  };
}

function restsOn(provided: readonly Provided[]): {
  readingIds: string[];
  observationIds: string[];
} {
  const readingIds: string[] = [];
  const observationIds: string[] = [];
  for (const each of provided) {
    readingIds.push(...(each.readingIds ?? []));
    observationIds.push(...(each.observationIds ?? []));
  }
  return { readingIds, observationIds };
}

function sentence(
  measured: Measured,
  { limit, because = 'the limit is' }: Parameters<typeof weighLimit>[2],
  undecided: boolean,
): string {
  const { unit, uncertainty } = measured;
  const said = `${show(measured)}; ${because} ${showValue(limit, unit)}; this method is good to ${showValue(uncertainty, unit)}`;
  return undecided ? `${said}, which leaves it undecided.` : withFullStop(said);
}

/** A unit such as in. w.c. brings its own. */
function withFullStop(said: string): string {
  return said.endsWith('.') ? said : `${said}.`;
}

function measurementOf(
  { value, unit, uncertainty }: Measured,
  { label, metWhen, limit, rated }: Parameters<typeof weighLimit>[2],
): DrawnMeasurement {
  const measurement: DrawnMeasurement = { label, value, unit, uncertainty };
  if (metWhen === 'above') measurement.high = limit;
  else measurement.low = limit;
  if (rated !== undefined) measurement.rated = rated;
  return measurement;
}
