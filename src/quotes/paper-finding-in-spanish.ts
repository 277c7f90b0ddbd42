import type { PaperFinding } from '../documents/index.ts';
import {
  type Criterion,
  faultsInSpanish,
  findFault,
  lookedAtInSpanish,
  type Measurement,
  type Reading,
  readingInSpanish,
  signInSpanish,
} from '../trade/index.ts';
import type { FoundForPaper } from './compose-paper.ts';
import { signsToSay } from './paper-facts.ts';
import { drawnMeasurements, paperStanding } from './paper-finding.ts';
import { paperMeasurement } from './paper-measurement.ts';
import { speaksAgainst } from './speaks-against.ts';

/**
 * A finding as the Spanish paper tells it. The sentences that a verdict froze are English, so none
 * of them is used: what it says is made of the fault, its signs and the readings they rest on.
 */
export function paperFindingInSpanish(finding: FoundForPaper, causeFound = false): PaperFinding {
  const { name, explanation, notTheCause } = faultsInSpanish[finding.faultCode];
  const standing = paperStanding(finding);
  const against = standing === 'contradicted' ? speaksAgainst(finding.criteria) : undefined;
  const speaking = finding.criteria.filter(({ outcome }) => outcome === 'met');
  const drawn = drawnMeasurements(speaking);
  const doubts = doubtsOf(finding, causeFound);
  const said = signsToSay(speaking.filter((criterion) => criterion !== against));
  return {
    name,
    explanation,
    standing,
    ...(against && { speaksAgainst: signInSpanish(finding.faultCode, against) }),
    ...(finding.override && { offeredBecause: finding.override.reason }),
    doubts,
    measurements: drawn.map((each) => paperMeasurement(each, 'es')),
    observations: distinct([
      ...said.map((criterion) => signInSpanish(finding.faultCode, criterion)),
      ...readingsBehind(said, drawn, finding.readings ?? []),
      ...(notTheCause !== undefined && causeFound ? [notTheCause] : []),
      ...(finding.causeSearch === 'recorded' ? ['Buscamos la causa en esta visita.'] : []),
    ]).filter((seen) => !doubts.includes(seen)),
    cautions: [],
  };
}

/** The figures of signs that only together tell, as they were read; what a gauge shows is not said again. */
function readingsBehind(
  said: readonly Criterion[],
  drawn: readonly Measurement[],
  readings: readonly Reading[],
): string[] {
  const ids = new Set(said.flatMap(({ readingIds }) => readingIds));
  return readings
    .filter(({ id }) => ids.has(id))
    .filter((reading) => !drawn.some((each) => isSame(each, reading)))
    .map(figureOf);
}

function isSame(drawn: Measurement, { value, unit }: Reading): boolean {
  return drawn.unit === unit && drawn.value === value;
}

function figureOf(reading: Reading): string {
  const label = readingInSpanish(reading);
  const { value, unit } = reading;
  const shown = paperMeasurement({ label, value, unit, uncertainty: 0 });
  const { decimals } = shown;
  const figure = shown.value.toLocaleString('en-US', {
    minimumFractionDigits: decimals,
    maximumFractionDigits: decimals,
  });
  return `${label}: ${figure.replace(/^-/, '−')} ${shown.unit}`;
}

function doubtsOf(finding: FoundForPaper, causeFound: boolean): string[] {
  const { faultCode, criteria, standing, causeSearch } = finding;
  const undecided = criteria.filter(({ outcome }) => outcome === 'undecided');
  const against = criteria.filter(
    ({ direction, outcome }) => direction === 'against' && outcome === 'met',
  );
  const open = standing === 'proven' ? [] : undecided;
  const { notTheCause } = faultsInSpanish[faultCode];
  return distinct([
    ...(standing === 'proven' ? against.map((each) => signInSpanish(faultCode, each)) : []),
    ...(hasEarlierDoubt(finding, undecided, against) ? [earlierDiffers] : []),
    ...open.map((each) => `No se pudo determinar si es así: “${signInSpanish(faultCode, each)}”`),
    ...notExcluded(finding),
    ...(notTheCause === undefined || causeFound ? [] : [notTheCause]),
    ...(causeSearch === 'missing'
      ? ['Todavía no se ha buscado la causa, así que esto no está terminado.']
      : []),
  ]);
}

const earlierDiffers =
  'Una lectura o revisión anterior decía otra cosa; cuenta la que se hizo al final.';

/** Every doubt of a verdict that is neither an undecided sign nor one against it is of that kind. */
function hasEarlierDoubt(
  { doubts }: FoundForPaper,
  undecided: readonly Criterion[],
  against: readonly Criterion[],
): boolean {
  const others = new Set([
    ...undecided.map(({ detail }) => detail),
    ...against.map(({ statement }) => statement),
  ]);
  return doubts.some((doubt) => !others.has(doubt));
}

/** Where the owner let the work through, what was not looked at before the fault was blamed. */
function notExcluded({ faultCode, override, exclusionsMissing }: FoundForPaper): string[] {
  if (override === null) return [];
  return (findFault(faultCode)?.exclusions ?? [])
    .filter(({ statement }) => exclusionsMissing.includes(statement))
    .map(({ doneWhen }) => `No quedó registrado: ${lookedAtInSpanish(doneWhen)}.`);
}

function distinct(texts: readonly string[]): string[] {
  return [...new Set(texts)];
}
