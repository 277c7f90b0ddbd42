import type { PaperBeforeAfter, PaperLanguage, PaperMeasurement } from '../documents/index.ts';
import { drawnMeasurements, paperMeasurement } from '../quotes/index.ts';
import type { Criterion, Measurement } from '../trade/index.ts';

/**
 * Every figure that was weighed for a finding, beside its limit: first those that spoke for it, then
 * those that turned out sound or left it open; each with the same figure after the work beside it,
 * where it was read again, and at the end what was read after the work alone.
 */
export function readingsBeside(
  before: readonly Criterion[],
  after: readonly Criterion[],
  language: PaperLanguage,
): PaperBeforeAfter[] {
  const shown = weighed(before);
  const pairs = shown.flatMap(({ measurement, signs }) => {
    const first = paperMeasurement(measurement, language);
    const again = readAgain(measurement, after, signs);
    return again === undefined
      ? [{ before: first }]
      : sideBySide(first, paperMeasurement(again, language));
  });
  const labels = new Set(shown.map(({ measurement }) => measurement.label));
  const only = weighed(after).filter(({ measurement }) => !labels.has(measurement.label));
  return [
    ...pairs,
    ...only.map(({ measurement }) => ({ after: paperMeasurement(measurement, language) })),
  ];
}

interface Weighed {
  measurement: Measurement;
  /** The signs that speak of it by the same limits. */
  signs: readonly string[];
}

/** One of each thing measured: by the limit that spoke, or else by one that did not. */
function weighed(criteria: readonly Criterion[]): Weighed[] {
  const speaking = criteria.filter(({ outcome }) => outcome === 'met');
  const silent = criteria
    .filter(({ outcome }) => outcome !== 'met')
    .flatMap((criterion) => besideItsLimit(criterion) ?? []);
  const spoken = signsOf(drawnMeasurements(speaking), speaking);
  const labels = new Set(spoken.map(({ measurement }) => measurement.label));
  const others = silent.filter(({ measurement }) => !labels.has(measurement?.label ?? ''));
  return [...spoken, ...signsOf(drawnMeasurements(others), others)];
}

function signsOf(drawn: readonly Measurement[], criteria: readonly Criterion[]): Weighed[] {
  return drawn.map((measurement) => ({
    measurement,
    signs: criteria
      .filter((each) => each.measurement?.label === measurement.label)
      .map(({ id }) => id),
  }));
}

/**
 * A figure that did not speak, with its limit where a sound one lies; undefined where the limit says
 * that only together with something else, so that a gauge of it would mislead.
 */
function besideItsLimit(criterion: Criterion): Criterion | undefined {
  const { measurement, direction, outcome } = criterion;
  if (measurement === undefined) return undefined;
  const { low, high, value, ...rest } = measurement;
  const limit = low ?? high;
  if (limit === undefined || (low !== undefined && high !== undefined)) return criterion;
  const isInside = low === undefined ? value <= limit : value >= limit;
  if (direction === 'for') return outcome === 'undecided' || isInside ? criterion : undefined;
  // What would have spoken for a sound machine and does not lies on the wrong side.
  if (outcome !== 'not_met') return undefined;
  const side = value > limit ? { high: limit } : { low: limit };
  return { ...criterion, direction: 'for', measurement: { ...rest, value, ...side } };
}

function readAgain(
  { label }: Measurement,
  after: readonly Criterion[],
  signs: readonly string[],
): Measurement | undefined {
  const same = after.filter(({ id }) => signs.includes(id));
  return drawnMeasurements(same).find((again) => again.label === label);
}

/** A resistance that rose from ohms to megohms has two scales, and so no common one. */
function sideBySide(before: PaperMeasurement, after: PaperMeasurement): PaperBeforeAfter[] {
  return before.unit === after.unit ? [{ before, after }] : [{ before }, { after }];
}
