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
import type { Weighed } from '../../verdicts/verdict.ts';
import { weighLimit } from '../../verdicts/weigh-limit.ts';
import { weighPattern } from '../../verdicts/weigh-pattern.ts';
import { whenMeasured } from '../../verdicts/when-measured.ts';
import { whenState } from '../../verdicts/when-state.ts';
import { outdoorKinds } from '../../words/kinds.ts';
import { chargeCautions } from '../cautions.ts';
import { everythingRuns } from '../expectations.ts';
import type { Fault } from '../fault.ts';
import { beforeCharge } from './before-charge.ts';
import { whenAirflowNotBad } from './when-airflow.ts';
import { whenCircuitReadable } from './when-circuit-readable.ts';

export const overcharge = {
  name: 'Too much refrigerant',
  explanation:
    'A cooling system works with a set amount of refrigerant. With too much of it the pressure in the outdoor unit rises, it draws more electricity for less cooling, and liquid can reach the compressor and damage it. What is too much is taken out and kept, never let into the air.',
  partOfSystem: 'refrigerant',
  role: 'cause',
  kinds: outdoorKinds,
  dear: false,
  cautions: chargeCautions,
  exclusions: [
    ...beforeCharge,
    {
      statement:
        'The outdoor coil was looked at: a dirty one raises the head like too much charge.',
      doneWhen: [
        { observation: 'outdoor_coil_dirty', answers: ['yes', 'no'] },
        { observation: 'outdoor_coil_cleared_pressure_fell', answers: ['yes', 'no'] },
      ],
    },
  ],
  remedies: [
    { task: 'remove_refrigerant', remedyClass: 'adjust', needs: 'supported', partCategories: [] },
    {
      task: 'renew_charge',
      remedyClass: 'adjust',
      needs: 'proven',
      partCategories: ['refrigerant'],
    },
  ],
  rules: { criteria: weighOvercharge },
  settledBy: ['read_gauges', 'look_at_outdoor_coil', 'weigh_charge'],
  perThousand: 4,
  expects: {
    ...everythingRuns,
    suction: { high: 0.6, low: 0.02 },
    head: { high: 0.9, low: 0.01 },
    superheat: { low: 0.6, high: 0.02 },
    subcooling: { high: 0.93, low: 0.01 },
    split: { fine: 0.7, low: 0.25 },
    compressor_amps: { normal: 0.7, high: 0.28 },
    filter_drier_drop: { high: 0.01 },
    charge: { over: 0.96, low: 0.002 },
    high_pressure_switch_open: 0.1,
    outdoor_coil_cleared_pressure_fell: 0.02,
  },
} as const satisfies Fault;

function weighOvercharge(facts: Facts): Weighed[] {
  return [
    weighLimit(
      {
        id: 'weighed_over',
        statement:
          'The charge, recovered and weighed, is more than nameplate and line set ask for.',
        direction: 'for',
        weight: 'decisive',
      },
      chargeAgainstAskedOf(facts),
      { ...weighedRule, metWhen: 'above', because: 'it is too much above' },
    ),
    overPattern(facts),
    overByChargeTest(facts),
    weighLimit(
      {
        id: 'weighed_not_over',
        statement: 'The charge, recovered and weighed, is no more than what is asked for.',
        direction: 'against',
        weight: 'decisive',
      },
      chargeAgainstAskedOf(facts),
      { ...weighedRule, metWhen: 'below', because: 'it is too much only above' },
    ),
    notOverByChargeTest(facts),
  ];
}

const weighedRule = {
  label: 'Recovered charge, of what is asked',
  limit: chargePercent.high,
  rated: 100,
} as const;

/** Air in the circuit shows much of this too, so the readings alone never prove it. */
function overPattern(facts: Facts): Weighed {
  return weighPattern(
    {
      id: 'over_pattern',
      statement: 'High subcooling and high head together with low superheat or high suction.',
      direction: 'for',
      weight: 'indicative',
    },
    {
      keys: [
        whenState(subcoolingState(facts), ['high'], ['low', 'fine']),
        whenState(headState(facts), ['high'], ['low', 'fine']),
      ],
      others: [
        whenState(superheatState(facts), ['low'], ['high']),
        whenState(suctionState(facts), ['high'], ['low']),
      ],
      agreeingMin: 3,
      provided: [...whenCircuitReadable(facts), whenAirflowNotBad(facts)],
    },
  );
}

function overByChargeTest(facts: Facts): Weighed {
  const isFixed = meteringDeviceOf(facts) === 'fixed_orifice';
  const subcooling = subcoolingState(facts);
  const superheat = superheatState(facts);
  return weighPattern(
    {
      id: 'charge_test_over',
      statement: isFixed
        ? 'The superheat is below its target and the subcooling is high.'
        : 'The subcooling is above its target and no other reading denies it.',
      direction: 'for',
      weight: 'indicative',
    },
    {
      keys: isFixed
        ? [
            whenState(superheat, ['low'], ['fine', 'high']),
            whenState(subcooling, ['high'], ['fine', 'low']),
          ]
        : [whenState(subcooling, ['high'], ['fine', 'low'])],
      others: [
        whenState(superheat, ['low'], ['high']),
        whenState(suctionState(facts), ['high'], ['low']),
        whenState(headState(facts), ['high'], ['low']),
        whenState(splitState(facts), ['fine'], ['high']),
      ],
      agreeingMin: 1,
      provided: [...whenCircuitReadable(facts), whenAirflowNotBad(facts)],
    },
  );
}

/** The published charge test passes: a valve by its subcooling, a fixed orifice by its superheat. */
function notOverByChargeTest(facts: Facts): Weighed {
  const isFixed = meteringDeviceOf(facts) === 'fixed_orifice';
  const subcooling = subcoolingState(facts);
  const superheat = superheatState(facts);
  return weighPattern(
    {
      id: 'charge_test_not_over',
      statement: isFixed
        ? 'The superheat is not below its target and the subcooling is not high.'
        : 'The subcooling is not above its target.',
      direction: 'against',
      weight: 'decisive',
    },
    {
      keys: [
        whenMeasured(subcooling.settled, subcooling.what, 'below', subcooling.band?.highDegF),
        ...(isFixed
          ? [whenMeasured(superheat.settled, superheat.what, 'above', superheat.band?.lowDegF)]
          : []),
      ],
      others: [],
      agreeingMin: 1,
      provided: whenCircuitReadable(facts),
    },
  );
}
