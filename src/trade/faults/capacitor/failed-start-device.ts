import type { Facts } from '../../facts/admit-evidence.ts';
import { measuredAt, show, showValue } from '../../facts/measured.ts';
import { isObserved, observed } from '../../facts/observed.ts';
import { supplyLimits } from '../../facts/supply-limits.ts';
import { compareWithBand } from '../../uncertainty/compare-with-band.ts';
import type { Weighed } from '../../verdicts/verdict.ts';
import { weighMeasurement } from '../../verdicts/weigh-measurement.ts';
import { weighObservation } from '../../verdicts/weigh-observation.ts';
import { contactorKinds } from '../../words/kinds.ts';
import { cautions } from '../cautions.ts';
import { everythingRuns } from '../expectations.ts';
import type { Fault } from '../fault.ts';
import { sections } from './sections.ts';
import { whenSectionSound } from './when-section-sound.ts';
import { withoutStartWinding } from './without-start-winding.ts';

export const failedStartDevice = {
  name: 'Failed start device',
  explanation:
    'A start device gives the compressor an extra push for the first moment of each start: a capacitor, and a relay that takes it out again. When the capacitor fails the compressor does not start; when the relay sticks, the push goes on and burns the capacitor and the motor.',
  partOfSystem: 'capacitor',
  role: 'cause',
  kinds: contactorKinds,
  dear: false,
  cautions: [
    cautions.lockOut,
    cautions.storedCharge,
    cautions.liveMeasurement,
    cautions.compressorTerminals,
    'A start capacitor that stays in circuit can burst: keep the cover on while it is tried.',
  ],
  exclusions: [],
  remedies: [
    {
      task: 'replace_start_device',
      remedyClass: 'replace',
      needs: 'supported',
      partCategories: ['start_device'],
    },
  ],
  rules: { unfit: withoutStartWinding, criteria: weighStartDevice },
  settledBy: ['measure_start_capacitor', 'look_into_outdoor_unit'],
  perThousand: 4,
  expects: {
    ...everythingRuns,
    compressor_running: 0.3,
    compressor_hums: 0.55,
    compressor_stops_on_overload: 0.55,
    start_capacitor: { failed: 0.75 },
    start_device_burnt: 0.4,
    start_device_stays_in_circuit: 0.25,
    compressor_starts_with_test_start_device: 0.9,
    capacitor_herm: { failed: 0.02, fine: 0.93 },
    compressor_amps: { none: 0.3, normal: 0.2, high: 0.1, locked: 0.4 },
    contactor_by_hand_both_start: 0.1,
    split: { low: 0.9 },
  },
} as const satisfies Fault;

function weighStartDevice(facts: Facts): Weighed[] {
  return [
    outsideMarking(facts),
    weighObservation(facts, {
      id: 'stays_in_circuit',
      direction: 'for',
      code: 'start_device_stays_in_circuit',
      weight: isWellFed(facts) ? 'decisive' : 'indicative',
    }),
    weighObservation(facts, {
      id: 'burnt',
      direction: 'for',
      code: 'start_device_burnt',
      weight: 'photoDecides',
    }),
    insideMarkingAndReleased(facts),
  ];
}

function outsideMarking(facts: Facts): Weighed {
  return weighMeasurement(
    {
      id: 'outside_marking',
      statement: 'The start capacitor is outside the range that is marked for it.',
      direction: 'for',
      weight: 'decisive',
    },
    measuredAt(facts, 'start_capacitor', 'capacitance'),
    (measured) => {
      const verdict = bandVerdict(facts, measured);
      return {
        outcome: verdict === 'undecided' ? 'undecided' : verdict === 'inside' ? 'not_met' : 'met',
        ...rests(facts, measured),
      };
    },
  );
}

/** A sound capacitor says nothing of a relay that never lets it in. */
function insideMarkingAndReleased(facts: Facts): Weighed {
  const released = observed(facts, 'start_device_stays_in_circuit');
  return weighMeasurement(
    {
      id: 'inside_marking_and_released',
      statement: 'The start capacitor is within its marking and leaves the circuit after a start.',
      direction: 'against',
      weight: 'indicative',
    },
    measuredAt(facts, 'start_capacitor', 'capacitance'),
    (measured) => {
      const verdict = bandVerdict(facts, measured);
      const isSound = verdict === 'inside' && released?.answer === 'no';
      const isFaulty = verdict === 'below' || verdict === 'above' || released?.answer === 'yes';
      return {
        outcome: isSound ? 'met' : isFaulty ? 'not_met' : 'undecided',
        ...rests(facts, measured),
        observationIds: released?.ids ?? [],
      };
    },
  );
}

type Capacitance = Parameters<Parameters<typeof weighMeasurement>[2]>[0];

/** Both ends must be known: a start capacitor is marked as a range, such as 189 to 227 uF. */
function bandVerdict({ equipment }: Facts, measured: Capacitance) {
  const { startCapacitorUfMin: low, startCapacitorUfMax: high } = equipment.nameplate;
  if (low === undefined || high === undefined) return 'undecided';
  return compareWithBand(measured, { low, high });
}

function rests({ equipment }: Facts, measured: Capacitance) {
  const { startCapacitorUfMin: low, startCapacitorUfMax: high } = equipment.nameplate;
  if (low === undefined || high === undefined) {
    return { detail: `${show(measured)}; record the range that is marked on it.` };
  }
  const { value, unit, uncertainty } = measured;
  return {
    detail: `${show(measured)}; it is marked ${low} to ${high} uF; this method is good to ${showValue(uncertainty, unit)}.`,
    measurement: { label: 'Start capacitor' as const, value, unit, uncertainty, low, high },
  };
}

/**
 * The relay lets go by the voltage of the start winding: on a low supply, or with a weak run
 * capacitor, a sound one may not.
 */
function isWellFed(facts: Facts): boolean {
  const supply = measuredAt(facts, 'line_supply', 'voltage');
  const limits = supplyLimits(facts);
  return (
    isObserved(facts, 'compressor_running') &&
    supply.kind === 'settled' &&
    limits !== undefined &&
    compareWithBand(supply.measured, limits) === 'inside' &&
    whenSectionSound(facts, sections.herm).state === 'holds'
  );
}
