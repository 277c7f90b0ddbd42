import type { PaperFinding, PaperMeasurement } from '../documents/index.ts';
import type { describeFinding } from '../evidence/index.ts';
import {
  type Criterion,
  compareWithLimit,
  findFault,
  type Measurement,
  printedUnit,
} from '../trade/index.ts';

/**
 * A finding as the paper tells it: what it is in plain words, and the signs that speak, each
 * reading beside its limit.
 */
export function paperFinding(finding: ReturnType<typeof describeFinding>): PaperFinding {
  const fault = findFault(finding.faultCode);
  if (fault === undefined) throw new Error(`the catalog has no fault ${finding.faultCode}`);
  const speaking = finding.criteria.filter(({ outcome }) => outcome === 'met');
  return {
    name: fault.name,
    explanation: fault.explanation,
    standing:
      finding.standing === 'proven' || finding.standing === 'supported'
        ? finding.standing
        : 'unproven',
    doubts: [
      ...finding.doubts,
      ...(fault.role === 'symptom' ? [fault.notTheCause] : []),
      ...(finding.causeSearch === 'missing'
        ? ['The cause has not been looked for yet, so this is not finished.']
        : []),
    ],
    measurements: drawnMeasurements(speaking),
    observations: [
      ...speaking
        .filter((criterion) => criterion.measurement === undefined)
        .map((criterion) => criterion.statement),
      ...(finding.causeSearch === 'recorded' ? ['We looked for the cause on this visit.'] : []),
    ],
    // The catalog's cautions are for whoever does the work; the customer's stand with the paper.
    cautions: [],
  };
}

/** One gauge per thing measured: where two limits speak of the same reading, the decisive one. */
function drawnMeasurements(criteria: readonly Criterion[]): PaperMeasurement[] {
  const byLabel = new Map<string, { measurement: Measurement; weight: Criterion['weight'] }>();
  for (const { measurement, weight } of criteria) {
    if (measurement === undefined) continue;
    const known = byLabel.get(measurement.label);
    if (known === undefined || (known.weight === 'indicative' && weight === 'decisive')) {
      byLabel.set(measurement.label, { measurement, weight });
    }
  }
  return [...byLabel.values()].map(({ measurement }) => paperMeasurement(measurement));
}

function paperMeasurement(measured: Measurement): PaperMeasurement {
  const unit = PAPER_UNIT[measured.unit] ?? printedUnit[measured.unit];
  return {
    label: measured.label,
    value: measured.value,
    unit,
    decimals: decimalsFor(measured),
    ...(measured.low !== undefined && { low: measured.low }),
    ...(measured.high !== undefined && { high: measured.high }),
    uncertainty: measured.uncertainty,
    verdict: verdictOf(measured),
    limitText: limitText(measured, unit),
  };
}

const PAPER_UNIT: Partial<Record<Measurement['unit'], string>> = {
  uF: 'µF',
  Ohm: 'Ω',
  '[degF]': '°F',
};

function decimalsFor({ value, low, high }: Measurement): number {
  const largest = Math.max(Math.abs(value), Math.abs(low ?? 0), Math.abs(high ?? 0));
  return largest >= 100 ? 0 : largest >= 10 ? 1 : 2;
}

function verdictOf({ value, uncertainty, low, high }: Measurement): PaperMeasurement['verdict'] {
  const besideLow = low === undefined ? 'above' : compareWithLimit({ value, uncertainty }, low);
  const besideHigh = high === undefined ? 'below' : compareWithLimit({ value, uncertainty }, high);
  if (besideLow === 'below' || besideHigh === 'above') return 'outside';
  return besideLow === 'above' && besideHigh === 'below' ? 'within' : 'undecided';
}

function limitText(measured: Measurement, unit: string): string {
  const digits = decimalsFor(measured);
  const shown = (value: number) => `${value.toFixed(digits)} ${unit}`;
  const { low, high, rated } = measured;
  const marked = rated === undefined ? '' : `Marked ${rated} ${unit}. `;
  if (low !== undefined && high !== undefined) {
    return `${marked}Should be ${shown(low)} to ${shown(high)}`;
  }
  if (low !== undefined) return `${marked}Should be ${shown(low)} or more`;
  if (high !== undefined) return `${marked}Should be ${shown(high)} or less`;
  return marked.trim();
}
