import type { Facts } from '../../facts/admit-evidence.ts';
import { chargeAgainstAskedOf, chargePercent } from '../../facts/charge-against-asked.ts';
import { meteringDeviceOf } from '../../facts/circuit-plate.ts';
import {
  headState,
  splitState,
  subcoolingState,
  suctionState,
  superheatState,
} from '../../facts/circuit-state.ts';
import { measuredAt } from '../../facts/measured.ts';
import { plateOf } from '../../facts/plate-of.ts';
import { chargeTestLimits } from '../../refrigerant/charge-test-limits.ts';
import type { Weighed } from '../../verdicts/verdict.ts';
import { weighLimit } from '../../verdicts/weigh-limit.ts';
import { weighPattern } from '../../verdicts/weigh-pattern.ts';
import type { Condition } from '../../verdicts/weigh-together.ts';
import { whenMeasured } from '../../verdicts/when-measured.ts';
import { whenState } from '../../verdicts/when-state.ts';
import { whenStateNot } from '../../verdicts/when-state-not.ts';
import { outdoorKinds } from '../../words/kinds.ts';
import { chargeCautions } from '../cautions.ts';
import { everythingRuns } from '../expectations.ts';
import type { Fault } from '../fault.ts';
import { beforeCharge } from './before-charge.ts';
import { lowChargeSigns, weighedLow } from './low-charge-signs.ts';
import { whenAirflowVerified } from './when-airflow.ts';
import { whenCircuitReadable } from './when-circuit-readable.ts';
import { whenDrierClear } from './when-drier-clear.ts';
import { whenSubcoolingNotLow } from './when-subcooling-not-low.ts';

export const lowCharge = {
  name: 'Low refrigerant charge',
  explanation:
    'A cooling system carries the heat of the house outdoors by a refrigerant that goes around in a sealed circuit. It is never used up: where some is missing, it leaks out somewhere or too little went in at the start. With too little of it the house is cooled less and the compressor runs hot.',
  partOfSystem: 'refrigerant',
  role: 'cause',
  kinds: outdoorKinds,
  dear: false,
  cautions: chargeCautions,
  exclusions: [
    ...beforeCharge,
    {
      statement: 'The circuit was searched for leaks: what is missing has leaked, and leaks again.',
      doneWhen: [
        { observation: 'refrigerant_leak_looked_for', answers: ['yes'] },
        { observation: 'bubbles_at_leak', answers: ['yes', 'no'] },
        { observation: 'leak_detector_alarms', answers: ['yes', 'no'] },
      ],
    },
  ],
  remedies: [
    {
      task: 'add_refrigerant',
      remedyClass: 'adjust',
      needs: 'proven',
      partCategories: ['refrigerant'],
    },
    {
      task: 'renew_charge',
      remedyClass: 'adjust',
      needs: 'proven',
      partCategories: ['refrigerant'],
    },
  ],
  rules: { criteria: weighLowCharge },
  settledBy: [
    'read_gauges',
    'measure_air_split',
    'measure_static_pressure',
    'look_at_filter',
    'measure_filter_drier',
  ],
  perThousand: 20,
  expects: {
    ...everythingRuns,
    suction: { low: 0.85, high: 0.01 },
    head: { low: 0.6, high: 0.02 },
    superheat: { high: 0.85, low: 0.01 },
    subcooling: { low: 0.9, high: 0.01 },
    split: { low: 0.92, high: 0.01 },
    compressor_amps: { normal: 0.97 },
    filter_drier_drop: { high: 0.01 },
    charge: { low: 0.96, over: 0.002 },
    ice_on_coil_or_line: 0.25,
    refrigerant_oil_seen: 0.2,
    leak_detector_alarms: 0.2,
    bubbles_at_leak: 0.15,
    outdoor_coil_cleared_pressure_fell: 0.02,
  },
} as const satisfies Fault;

function weighLowCharge(facts: Facts): Weighed[] {
  return [
    weighedLow(facts, 'decisive'),
    provenByReadings(facts),
    ...provenByChargeTest(facts),
    ...lowChargeSigns(facts),
    weighedEnough(facts),
    chargeTestPassed(facts),
    weighPattern(
      {
        id: 'subcooling_high',
        statement: 'The subcooling is high.',
        direction: 'against',
        weight: 'indicative',
      },
      {
        keys: [whenState(subcoolingState(facts), ['high'], ['low', 'fine'])],
        others: [],
        agreeingMin: 1,
        provided: whenCircuitReadable(facts),
      },
    ),
  ];
}

/** With airflow and filter drier cleared nothing else starves coil and condenser alike. */
function provenByReadings(facts: Facts): Weighed {
  return weighPattern(
    {
      id: 'low_by_all_readings',
      statement:
        'Subcooling low and superheat high together, suction and head not high, with the airflow verified and no restriction at the filter drier.',
      direction: 'for',
      weight: 'decisive',
    },
    {
      keys: [
        whenState(subcoolingState(facts), ['low'], ['fine', 'high']),
        whenState(superheatState(facts), ['high'], ['fine', 'low']),
        ...whenPressuresNotHigh(facts),
      ],
      others: [whenState(splitState(facts), ['low'], ['high'])],
      agreeingMin: 4,
      provided: whenChargeTestCounts(facts),
    },
  );
}

/**
 * The published charge test of a valve: below the subcooling of its plate refrigerant is added. The
 * valve makes up for what is missing, so that the superheat need not be high yet; low it would tell
 * of a valve that floods.
 */
function provenByChargeTest(facts: Facts): Weighed[] {
  const isCharged = meteringDeviceOf(facts) !== 'fixed_orifice';
  if (!isCharged || plateOf(facts, 'targetSubcoolingDegF') === undefined) return [];
  const result = weighPattern(
    {
      id: 'charge_test_proves_low',
      statement:
        'Subcooling below that of the nameplate, superheat not low, suction and head not high, with the airflow verified and no restriction at the filter drier.',
      direction: 'for',
      weight: 'decisive',
    },
    {
      keys: [
        whenState(subcoolingState(facts), ['low'], ['fine', 'high']),
        whenStateNot(superheatState(facts), 'low'),
        ...whenPressuresNotHigh(facts),
      ],
      others: [whenState(splitState(facts), ['low'], ['high'])],
      agreeingMin: 4,
      provided: [...whenChargeTestCounts(facts), whenFullStage(facts)],
    },
  );
  return [result];
}

/** A high head is a dirty condenser's, a high suction a weak compressor's. */
function whenPressuresNotHigh(facts: Facts): Condition[] {
  return [whenStateNot(suctionState(facts), 'high'), whenStateNot(headState(facts), 'high')];
}

/** What must be so before readings alone prove a low charge: in a hot house all of them look it. */
function whenChargeTestCounts(facts: Facts): Condition[] {
  const returnAir = measuredAt(facts, 'return_air', 'temperature');
  return [
    ...whenCircuitReadable(facts),
    whenMeasured(returnAir, 'return air', 'above', chargeTestLimits.returnDegFMin),
    whenMeasured(returnAir, 'return air', 'below', chargeTestLimits.returnDegFMax),
    whenAirflowVerified(facts),
    whenDrierClear(facts),
  ];
}

/** The subcooling of a plate is that of the full stage. */
function whenFullStage(facts: Facts): Condition {
  const stages = plateOf(facts, 'stages') ?? 1;
  return {
    state: stages > 1 ? 'unknown' : 'holds',
    says: stages > 1 ? 'Nobody can say which stage ran: weigh the charge.' : 'It has one stage.',
    readingIds: [],
    observationIds: [],
    readingsDisagree: false,
  };
}

function weighedEnough(facts: Facts): Weighed {
  return weighLimit(
    {
      id: 'weighed_enough',
      statement:
        'The charge, recovered and weighed, is what nameplate and line set ask for or more.',
      direction: 'against',
      weight: 'decisive',
    },
    chargeAgainstAskedOf(facts),
    {
      label: 'Recovered charge, of what is asked',
      metWhen: 'above',
      limit: chargePercent.low,
      because: 'with what a recovery leaves behind it is enough above',
      rated: 100,
    },
  );
}

/** A restriction can hide a low charge behind good subcooling, but then the superheat is high. */
function chargeTestPassed(facts: Facts): Weighed {
  return weighPattern(
    {
      id: 'charge_test_passed',
      statement: 'The subcooling is not low and the superheat is not high.',
      direction: 'against',
      weight: 'decisive',
    },
    {
      keys: [whenSubcoolingNotLow(facts), whenStateNot(superheatState(facts), 'high')],
      others: [],
      agreeingMin: 2,
      provided: whenCircuitReadable(facts),
    },
  );
}
