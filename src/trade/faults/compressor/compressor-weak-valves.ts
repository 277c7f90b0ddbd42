import type { Nameplate } from '../../evidence.ts';
import type { Facts } from '../../facts/admit-evidence.ts';
import { returnOverSuctionBand } from '../../facts/circuit-bands.ts';
import { meteringDeviceOf } from '../../facts/circuit-plate.ts';
import {
  type CircuitState,
  headState,
  subcoolingState,
  suctionState,
  superheatState,
} from '../../facts/circuit-state.ts';
import { compressorRunningAmps } from '../../facts/compressor-amps.ts';
import { measuredAt } from '../../facts/measured.ts';
import { returnOverSuctionOf } from '../../facts/refrigerant-state.ts';
import { reversingValveRise } from '../../facts/reversing-valve-rise.ts';
import { chargeTestLimits } from '../../refrigerant/charge-test-limits.ts';
import type { Weighed } from '../../verdicts/verdict.ts';
import { type Condition, weighTogether } from '../../verdicts/weigh-together.ts';
import { whenMeasured } from '../../verdicts/when-measured.ts';
import { whenObserved } from '../../verdicts/when-observed.ts';
import { contactorKinds } from '../../words/kinds.ts';
import { cautions, openCircuitCautions } from '../cautions.ts';
import { everythingRuns } from '../expectations.ts';
import type { Fault } from '../fault.ts';
import { valveRiseDegF } from '../heat-pump/valve-rise-limits.ts';
import { whenAirflowVerified } from '../refrigerant/when-airflow.ts';
import { whenCircuitReadable } from '../refrigerant/when-circuit-readable.ts';
import { replaceCompressor } from './replace-compressor.ts';
import { singlePhaseOnly } from './single-phase-only.ts';

/** Pumping little a compressor draws little, well under its rated load; common practice, no source. */
const lowShareOfRla = 0.7;

/** On a cooler day a sound compressor draws little and a valve that floods looks like it; common practice, no source. */
const warmOutdoorsDegFMin = 80;

/**
 * A weak compressor lets its house grow hot, and a hot house makes a sound one draw more, not less;
 * only one hotter than this is no house that was being cooled. Common practice, no source.
 */
const hotHouseDegFMax = 90;

export const compressorWeakValves = {
  name: 'Weak compressor',
  explanation:
    'A compressor is the pump of the cooling system. When its valves or scrolls leak inside, it runs but hardly pumps: the pressure before it stays high, the pressure after it stays low, and the house is cooled too little. It cannot be opened for repair.',
  partOfSystem: 'compressor',
  role: 'cause',
  kinds: contactorKinds,
  dear: true,
  cautions: [
    cautions.lockOut,
    cautions.storedCharge,
    cautions.liveMeasurement,
    cautions.compressorTerminals,
    ...openCircuitCautions,
  ],
  exclusions: [
    {
      statement: 'The airflow was verified: pressures say little of a compressor without it.',
      doneWhen: [
        { point: 'supply_static', quantity: 'static_pressure' },
        { point: 'supply_air', quantity: 'airflow' },
      ],
    },
    {
      statement: 'Its running current was measured.',
      doneWhen: [{ point: 'compressor_common', quantity: 'current' }],
    },
    {
      statement: 'The outdoor air was measured: on a cool day the head is low by itself.',
      doneWhen: [{ point: 'outdoor_air', quantity: 'temperature' }],
    },
    {
      statement: 'The filter was looked at: a dirty one lowers what the compressor has to pump.',
      doneWhen: [
        { observation: 'filter_dirty', answers: ['yes', 'no'] },
        { point: 'filter_drop', quantity: 'static_pressure' },
      ],
    },
  ],
  remedies: replaceCompressor,
  rules: { unfit: drivenByInverter, criteria: weighWeakValves },
  settledBy: [
    'read_gauges',
    'measure_compressor_amps',
    'look_at_filter',
    'measure_reversing_valve_lines',
    'look_at_indoor_coil',
    'warm_sensing_bulb',
  ],
  perThousand: 4,
  expects: {
    ...everythingRuns,
    compressor_amps: { normal: 0.95 },
    suction: { high: 0.93 },
    head: { low: 0.92 },
    superheat: { low: 0.6, high: 0.05 },
    subcooling: { low: 0.05, high: 0.45 },
    reversing_valve_lines: { fine: 0.97 },
    charge: { fine: 0.95 },
    split: { low: 0.96 },
    external_static: { fine: 0.75 },
  },
} as const satisfies Fault;

function drivenByInverter(nameplate: Nameplate): string | undefined {
  return nameplate.compressorMotor === 'inverter'
    ? 'an inverter sets the speed of the compressor, so its pressures show no fixed pattern'
    : undefined;
}

function weighWeakValves(facts: Facts): Weighed[] {
  return [
    weighTogether(
      {
        id: 'full_pattern',
        statement:
          'Suction high and head low together, superheat low, subcooling not low and amps low, with the airflow verified and nothing else to blame.',
        direction: 'for',
        weight: 'decisive',
      },
      whenReturnOverSuction(facts, 'below'),
      [
        whenLow(headState(facts)),
        whenLow(superheatState(facts)),
        whenNotLow(subcoolingState(facts)),
        whenAmpsLow(facts),
        ...othersExcluded(facts),
      ],
    ),
    weighTogether(
      {
        id: 'pressures_close',
        statement: 'The suction is high and the head is low at the same time.',
        direction: 'for',
        weight: 'indicative',
      },
      whenHigh(suctionState(facts)),
      [whenLow(headState(facts))],
    ),
    weighTogether(
      {
        id: 'builds_its_pressures',
        statement: 'It pulls the suction down and builds its head pressure.',
        direction: 'against',
        weight: 'decisive',
      },
      whenReturnOverSuction(facts, 'above'),
      [whenNotLow(headState(facts))],
    ),
  ];
}

/** The suction freed of the house; without the return air it is good enough for a hint alone. */
function whenReturnOverSuction(facts: Facts, side: 'above' | 'below'): Condition {
  return whenMeasured(
    returnOverSuctionOf(facts),
    'return air over suction saturation',
    side,
    returnOverSuctionBand.lowDegF,
  );
}

function whenLow({ settled, what, band }: CircuitState): Condition {
  return whenMeasured(settled, what, 'below', band?.lowDegF);
}

function whenNotLow({ settled, what, band }: CircuitState): Condition {
  return whenMeasured(settled, what, 'above', band?.lowDegF);
}

function whenHigh({ settled, what, band, isInverted }: CircuitState): Condition {
  return isInverted
    ? whenMeasured(settled, what, 'below', band?.lowDegF)
    : whenMeasured(settled, what, 'above', band?.highDegF);
}

function whenAmpsLow(facts: Facts): Condition {
  const rla = facts.equipment.nameplate.compressorRlaAmps;
  const limit = rla === undefined ? undefined : lowShareOfRla * rla;
  return whenMeasured(compressorRunningAmps(facts), 'current of the compressor', 'below', limit);
}

/** What else shows these pressures: a cool day, a low stage, a valve that floods or leaks, rotation. */
function othersExcluded(facts: Facts): Condition[] {
  const returnAir = measuredAt(facts, 'return_air', 'temperature');
  const outdoorAir = measuredAt(facts, 'outdoor_air', 'temperature');
  return [
    whenObserved(facts, 'compressor_running'),
    ...whenCircuitReadable(facts),
    whenMeasured(outdoorAir, 'outdoor air', 'above', warmOutdoorsDegFMin),
    whenMeasured(returnAir, 'return air', 'above', chargeTestLimits.returnDegFMin),
    whenMeasured(returnAir, 'return air', 'below', hotHouseDegFMax),
    whenAirflowVerified(facts),
    whenOneStage(facts),
    whenTurnsOneWay(facts),
    ...whenNothingFloods(facts),
    ...(mayReverse(facts) ? [whenReversingValveTight(facts)] : []),
  ];
}

function whenOneStage({ equipment }: Facts): Condition {
  const isSingle = equipment.nameplate.stages === 1;
  return said(
    isSingle,
    isSingle
      ? 'The compressor has one stage.'
      : 'A compressor of several stages shows these pressures in its low stage too; record how many it has.',
  );
}

/** A single-phase motor turns one way only. */
function whenTurnsOneWay({ equipment }: Facts): Condition {
  const { phase, compressorMotor } = equipment.nameplate;
  const isKnown = phase !== undefined || compressorMotor !== undefined;
  const isSingle = isKnown && singlePhaseOnly(equipment.nameplate) === undefined;
  return said(
    isSingle,
    isSingle
      ? 'The compressor has one phase.'
      : 'On three phases a scroll that turns backwards shows the same; record the phases and look at its rotation.',
  );
}

/** An orifice has no bulb; of a valve that its motor opens nothing tells whether it floods. */
function whenNothingFloods(facts: Facts): Condition[] {
  switch (meteringDeviceOf(facts)) {
    case 'fixed_orifice':
      return [];
    case 'txv':
      return [
        whenObserved(facts, 'sensing_bulb_loose', 'no'),
        whenObserved(facts, 'superheat_follows_bulb'),
      ];
    case 'eev':
    case undefined:
      return [said(false, 'A metering valve that stands too far open shows the same.')];
  }
}

/** A package unit may be a heat pump too. */
function mayReverse({ equipment: { kind } }: Facts): boolean {
  return kind === 'heat_pump' || kind === 'package_unit';
}

function said(holds: boolean, says: string): Condition {
  const state = holds ? 'holds' : 'unknown';
  return { state, says, readingIds: [], observationIds: [], readingsDisagree: false };
}

function whenReversingValveTight(facts: Facts): Condition {
  const settled = reversingValveRise(facts);
  return whenMeasured(settled, 'rise across the reversing valve', 'below', valveRiseDegF.suspected);
}
