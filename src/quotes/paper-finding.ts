import type { PaperFinding, PaperStanding } from '../documents/index.ts';
import type { describeFinding } from '../evidence/index.ts';
import { type Criterion, type FaultEntry, findFault, type Measurement } from '../trade/index.ts';
import { paperFacts } from './paper-facts.ts';
import { paperMeasurement } from './paper-measurement.ts';
import { paperSentence } from './paper-sentence.ts';
import { speaksAgainst } from './speaks-against.ts';

type Finding = ReturnType<typeof describeFinding>;

/**
 * A finding as the paper tells it: what it is in plain words, and the signs that speak, each
 * reading beside its limit. What a technician is told to do next has no place here.
 * @param causeFound of a symptom: the paper tells what caused it, too
 */
export function paperFinding(finding: Finding, causeFound = false): PaperFinding {
  const fault = findFault(finding.faultCode);
  if (fault === undefined) throw new Error(`the catalog has no fault ${finding.faultCode}`);
  const standing = paperStanding(finding);
  const against = standing === 'contradicted' ? speaksAgainst(finding.criteria) : undefined;
  const speaking = finding.criteria.filter(({ outcome }) => outcome === 'met');
  const drawn = drawnMeasurements(speaking);
  const doubts = doubtsOf(finding, fault, causeFound);
  return {
    name: fault.name,
    explanation: fault.explanation,
    standing,
    ...(against && { speaksAgainst: paperSentence(against.statement) }),
    ...(finding.override && { offeredBecause: finding.override.reason }),
    doubts,
    measurements: drawn.map((each) => paperMeasurement(each)),
    observations: [
      ...paperFacts(
        speaking.filter((criterion) => criterion !== against),
        drawn,
      ),
      ...(fault.role === 'symptom' && causeFound ? [fault.notTheCause] : []),
      ...(finding.causeSearch === 'recorded' ? ['We looked for the cause on this visit.'] : []),
    ].filter((seen) => !doubts.includes(seen)),
    // The catalog's cautions are for whoever does the work; the customer's stand with the paper.
    cautions: [],
  };
}

export function paperStanding({ standing }: Finding): PaperStanding {
  return standing === 'not_applicable' ? 'unproven' : standing;
}

/** What the readings left open, said of the fault and never as a task for the technician. */
function doubtsOf(finding: Finding, fault: FaultEntry, causeFound: boolean): string[] {
  const undecided = finding.criteria.filter(({ outcome }) => outcome === 'undecided');
  // What is proven another way needs none of them, and four of them would make it look unsettled.
  const open = paperStanding(finding) === 'proven' ? [] : undecided;
  const tasks = new Set(undecided.map(({ detail }) => detail));
  return distinct([
    ...finding.doubts.filter((doubt) => !tasks.has(doubt)).map(paperSentence),
    ...open.map(
      ({ statement }) => `We could not tell whether this is so: “${paperSentence(statement)}”`,
    ),
    ...notExcluded(finding, fault),
    ...(fault.role === 'symptom' && !causeFound ? [fault.notTheCause] : []),
    ...(finding.causeSearch === 'missing'
      ? ['The cause has not been looked for yet, so this is not finished.']
      : []),
  ]);
}

/** Where the owner let the work through, what was not looked at before the fault was blamed. */
function notExcluded(
  { override, exclusionsMissing }: Finding,
  { exclusions }: FaultEntry,
): string[] {
  if (override === null) return [];
  return exclusions
    .filter(({ statement }) => exclusionsMissing.includes(statement))
    .map(({ statement }) => `Not on record: ${paperSentence(statement)}`);
}

/** One gauge per thing measured: where two limits speak of the same reading, the decisive one. */
export function drawnMeasurements(criteria: readonly Criterion[]): Measurement[] {
  const byLabel = new Map<string, { measurement: Measurement; weight: Criterion['weight'] }>();
  for (const { measurement, weight, direction } of criteria) {
    if (measurement === undefined) continue;
    const known = byLabel.get(measurement.label);
    if (known === undefined || (known.weight === 'indicative' && weight === 'decisive')) {
      const drawn = direction === 'against' ? onSoundSide(measurement) : measurement;
      byLabel.set(measurement.label, { measurement: drawn, weight });
    }
  }
  return [...byLabel.values()].map(({ measurement }) => measurement);
}

/** A reading that speaks against a fault is a sound one, so that its one limit lies behind it. */
function onSoundSide(measurement: Measurement): Measurement {
  const { low, high, ...rest } = measurement;
  if (low !== undefined && high !== undefined) return measurement;
  const limit = low ?? high;
  if (limit === undefined) return measurement;
  return rest.value > limit ? { ...rest, low: limit } : { ...rest, high: limit };
}

function distinct(texts: readonly string[]): string[] {
  return [...new Set(texts)];
}
