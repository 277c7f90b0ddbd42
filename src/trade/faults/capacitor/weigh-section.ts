import type { Nameplate } from '../../evidence.ts';
import type { Facts } from '../../facts/admit-evidence.ts';
import { type Measured, type Settled, show, showValue } from '../../facts/measured.ts';
import { rememberedFor } from '../../facts/remembered-for.ts';
import { type CapacitorSection, sectionCapacitance } from '../../facts/section-capacitance.ts';
import { compareWithLimit } from '../../uncertainty/compare-with-limit.ts';
import type { DrawnMeasurement, Weighed } from '../../verdicts/verdict.ts';
import { type Decision, weighMeasurement } from '../../verdicts/weigh-measurement.ts';
import { weighObservation } from '../../verdicts/weigh-observation.ts';
import type { MeasuredLabel } from '../../words/measured-labels.ts';
import type { ObservationCode } from '../../words/observations.ts';

/** A run capacitor, or one section of a dual one, each of which is a fault of its own. */
export type Section = {
  point: CapacitorSection;
  label: MeasuredLabel;
  bulged: ObservationCode;
  /** Both outdoor motors start by hand: that excludes a dead capacitor of theirs. */
  servesOutdoorMotor: boolean;
  ratedUf: (nameplate: Nameplate) => number | undefined;
};

/** The criteria of one section: its capacitance against the nameplate, and how it looks. */
export const weighSection = rememberedFor((facts: Facts, section: Section): Weighed[] => {
  const capacitance = sectionCapacitance(facts, section.point);
  const limits = sectionLimits(facts.equipment.nameplate, section);
  const bulged = weighObservation(facts, {
    id: 'bulged_or_leaking',
    direction: 'for',
    code: section.bulged,
    weight: 'photoDecides',
  });
  return [
    weighMeasurement(
      {
        id: 'failed',
        statement: 'The capacitance is more than 10 % below its rating.',
        direction: 'for',
        weight: 'decisive',
      },
      capacitance,
      (measured) => decideFailed(measured, limits),
    ),
    weighMeasurement(
      {
        id: 'out_of_tolerance',
        statement: 'The capacitance is outside the tolerance of its label.',
        direction: 'for',
        weight: 'indicative',
      },
      capacitance,
      (measured) => decideTolerance(measured, limits, 'outside'),
    ),
    weighMeasurement(
      {
        id: 'within_tolerance',
        statement: 'The capacitance is within the tolerance of its label.',
        direction: 'against',
        // A can that bulges or leaks has failed, whatever it measures today.
        weight: bulged.criterion.weight === 'decisive' ? 'indicative' : 'decisive',
      },
      capacitance,
      (measured) => decideTolerance(measured, limits, 'inside'),
    ),
    bulged,
    ...(section.servesOutdoorMotor ? [bothMotorsStart(facts, capacitance)] : []),
  ];
});

function bothMotorsStart(facts: Facts, capacitance: Settled): Weighed {
  return overriddenByMeasurement(
    weighObservation(facts, {
      id: 'both_motors_start_by_hand',
      statement:
        'With the contactor pushed in by hand both motors start: the capacitor is not dead, though it may be weak.',
      direction: 'against',
      code: 'contactor_by_hand_both_start',
      weight: 'indicative',
    }),
    capacitance,
  );
}

/** That both motors start excludes a dead capacitor only; any measurement says more. */
function overriddenByMeasurement(weighed: Weighed, capacitance: Settled): Weighed {
  const { criterion } = weighed;
  const isMeasured = capacitance.kind === 'settled' || capacitance.kind === 'disagree';
  if (criterion.outcome !== 'met' || !isMeasured) return weighed;
  const detail = 'Overridden by the measurement.';
  return { ...weighed, criterion: { ...criterion, outcome: 'not_applicable', detail } };
}

type Limits = {
  label: MeasuredLabel;
  ratedUf: number | undefined;
  failedBelowUf: number | undefined;
  tolerancePercent: number | undefined;
  lowUf: number | undefined;
  highUf: number | undefined;
};

/**
 * 'Failed' begins 10 % below the rating (common practice, no source), but never inside what a
 * wider label, such as +/-15 %, still allows: a part within its own label has not failed.
 */
function sectionLimits(nameplate: Nameplate, section: Section): Limits {
  const ratedUf = section.ratedUf(nameplate);
  const tolerancePercent = nameplate.capacitorTolerancePercent;
  const share = (percent: number | undefined) =>
    ratedUf === undefined || percent === undefined ? undefined : ratedUf * (1 + percent / 100);
  return {
    label: section.label,
    ratedUf,
    failedBelowUf: share(-failurePercent(tolerancePercent)),
    tolerancePercent,
    lowUf: share(tolerancePercent === undefined ? undefined : -tolerancePercent),
    highUf: share(tolerancePercent),
  };
}

function failurePercent(tolerancePercent: number | undefined): number {
  return Math.max(10, tolerancePercent ?? 0);
}

function decideFailed(measured: Measured, limits: Limits): Decision {
  const { ratedUf, failedBelowUf } = limits;
  if (ratedUf === undefined || failedBelowUf === undefined) return ratingMissing(measured);
  const side = compareWithLimit(measured, failedBelowUf);
  const percent = failurePercent(limits.tolerancePercent);
  const limit = `${showValue(failedBelowUf, 'uF')} is ${percent} % below the ${ratedUf} uF on the nameplate`;
  return {
    outcome: side === 'below' ? 'met' : side === 'above' ? 'not_met' : 'undecided',
    detail: sentence(measured, limit, side === 'within'),
    measurement: measurementOf(measured, limits, { low: failedBelowUf }),
  };
}

function decideTolerance(
  measured: Measured,
  limits: Limits,
  asked: 'inside' | 'outside',
): Decision {
  const { ratedUf, lowUf, highUf, tolerancePercent } = limits;
  if (ratedUf === undefined) return ratingMissing(measured);
  if (lowUf === undefined || highUf === undefined) return toleranceMissing(measured);
  const low = compareWithLimit(measured, lowUf);
  const high = compareWithLimit(measured, highUf);
  const isTooMuch = isTooMuchRunning(measured, highUf);
  const isOutside = low === 'below' || (high === 'above' && !isTooMuch);
  const isInside = low === 'above' && high === 'below';
  const said = `the label allows ${showValue(lowUf, 'uF')} to ${showValue(highUf, 'uF')} (${ratedUf} uF +/-${tolerancePercent} %)`;
  const limit = isTooMuch ? `${said}; ${lineNotAcross}` : said;
  const met = asked === 'inside' ? isInside : isOutside;
  return {
    outcome: met ? 'met' : isInside || isOutside ? 'not_met' : 'undecided',
    detail: sentence(measured, limit, !isInside && !isOutside),
    measurement: measurementOf(measured, limits, { low: lowUf, high: highUf }),
  };
}

const lineNotAcross =
  'so much is usually the line voltage, not the higher one across the running capacitor';

/** Across a running capacitor stands more than the line: taken for it, the line makes too many uF. */
function isTooMuchRunning(measured: Measured, highUf: number): boolean {
  return measured.how === 'under load' && compareWithLimit(measured, highUf) === 'above';
}

function ratingMissing(measured: Measured): Decision {
  const detail = `${show(measured)}; record the rating from the nameplate, the can found is not enough.`;
  return { outcome: 'undecided', detail };
}

function toleranceMissing(measured: Measured): Decision {
  const detail = `${show(measured)}; record the tolerance of the label on the nameplate.`;
  return { outcome: 'undecided', detail };
}

function sentence(measured: Measured, limit: string, undecided: boolean): string {
  const goodTo =
    measured.value > 0
      ? `${((100 * measured.uncertainty) / measured.value).toFixed(1)} %`
      : showValue(measured.uncertainty, 'uF');
  const decided = `${show(measured)}; ${limit}; this method is good to ${goodTo}`;
  return undecided
    ? `${decided}, which leaves it undecided: ${nextTest(measured)}.`
    : `${decided}.`;
}

function nextTest(measured: Measured): string {
  return measured.how === 'under load' ? 'test it disconnected' : 'test it with a better meter';
}

function measurementOf(
  { value, unit, uncertainty }: Measured,
  { label, ratedUf }: Limits,
  band: { low: number; high?: number },
): DrawnMeasurement {
  const rated = ratedUf === undefined ? {} : { rated: ratedUf };
  return { label, value, unit, uncertainty, ...band, ...rated };
}
