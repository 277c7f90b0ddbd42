import type { Facts } from '../../facts/admit-evidence.ts';
import { meteringDeviceOf } from '../../facts/circuit-plate.ts';
import {
  headState,
  splitState,
  subcoolingState,
  suctionState,
  superheatState,
} from '../../facts/circuit-state.ts';
import type { Weighed } from '../../verdicts/verdict.ts';
import { weighObservation } from '../../verdicts/weigh-observation.ts';
import { weighPattern } from '../../verdicts/weigh-pattern.ts';
import { whenObserved } from '../../verdicts/when-observed.ts';
import { whenState } from '../../verdicts/when-state.ts';
import { indoorCoilKinds } from '../../words/kinds.ts';
import { openCircuitCautions } from '../cautions.ts';
import { everythingRuns } from '../expectations.ts';
import type { Fault } from '../fault.ts';
import { beforeCharge } from './before-charge.ts';
import { whenAirflowNotBad, whenAirflowVerified } from './when-airflow.ts';
import { whenCircuitReadable } from './when-circuit-readable.ts';
import { whenDrierClear } from './when-drier-clear.ts';
import { whenSubcoolingNotLow } from './when-subcooling-not-low.ts';

export const failedMeteringDevice = {
  name: 'Failed metering device',
  explanation:
    'A small valve before the indoor coil lets in just as much refrigerant as the coil can evaporate. When it sticks or clogs, the coil gets too little and cools poorly, or too much, so that liquid reaches the compressor and can damage it.',
  partOfSystem: 'refrigerant',
  role: 'cause',
  kinds: indoorCoilKinds,
  dear: true,
  cautions: openCircuitCautions,
  exclusions: [
    ...beforeCharge,
    {
      statement: 'The subcooling was measured: a low charge starves a sound valve.',
      doneWhen: [{ point: 'liquid_port', quantity: 'gauge_pressure' }],
    },
    {
      statement: 'The filter drier was measured: a clogged one starves a sound valve.',
      doneWhen: [
        { point: 'filter_drier_out', quantity: 'temperature' },
        { observation: 'filter_drier_fitted', answers: ['no'] },
      ],
    },
    {
      statement: 'The sensing bulb was looked at and warmed, where there is one.',
      doneWhen: [
        { observation: 'superheat_follows_bulb', answers: ['yes', 'no'] },
        { observation: 'sensing_bulb_loose', answers: ['yes', 'no'] },
      ],
    },
  ],
  remedies: [
    {
      task: 'replace_metering_device',
      remedyClass: 'replace',
      needs: 'proven',
      partCategories: ['metering_device', 'filter_drier', 'refrigerant'],
    },
  ],
  rules: { criteria: weighMeteringDevice },
  settledBy: [
    'read_gauges',
    'look_at_indoor_coil',
    'warm_sensing_bulb',
    'look_at_filter',
    'measure_air_split',
    'measure_static_pressure',
    'measure_filter_drier',
  ],
  perThousand: 8,
  expects: {
    ...everythingRuns,
    suction: { low: 0.65, high: 0.2 },
    head: { low: 0.25, high: 0.1 },
    superheat: { high: 0.68, low: 0.25 },
    subcooling: { low: 0.04, fine: 0.5 },
    split: { low: 0.9, high: 0.02 },
    compressor_amps: { normal: 0.97 },
    filter_drier_drop: { high: 0.01 },
    charge: { fine: 0.9 },
    superheat_follows_bulb: 0.05,
    metering_device_frosted: 0.5,
    sensing_bulb_loose: 0.02,
    pressures_hunt: 0.25,
    ice_on_coil_or_line: 0.2,
  },
} as const satisfies Fault;

function weighMeteringDevice(facts: Facts): Weighed[] {
  const isValve = meteringDeviceOf(facts) === 'txv';
  return [
    ...(isValve ? [provenStarving(facts), provenFlooding(facts), doesNotFollowBulb(facts)] : []),
    starvingPattern(facts),
    floodingPattern(facts),
    ...(isValve ? [followsBulb(facts)] : []),
    holdsSuperheat(facts),
  ];
}

/** A kink upstream starves the coil too, but then the frost begins there and not at the valve. */
function provenStarving(facts: Facts): Weighed {
  return weighPattern(
    {
      id: 'starves_and_does_not_follow',
      statement:
        'Superheat high at good subcooling, frost beginning at the valve, and the valve does not follow its tight bulb; airflow and filter drier cleared.',
      direction: 'for',
      weight: 'decisive',
    },
    {
      keys: [
        whenState(superheatState(facts), ['high'], ['low', 'fine']),
        whenSubcoolingNotLow(facts),
        whenObserved(facts, 'superheat_follows_bulb', 'no'),
        whenObserved(facts, 'metering_device_frosted'),
      ],
      others: [whenState(suctionState(facts), ['low'], ['high'])],
      agreeingMin: 4,
      provided: [
        ...whenCircuitReadable(facts),
        whenAirflowVerified(facts),
        whenDrierClear(facts),
        whenObserved(facts, 'sensing_bulb_loose', 'no'),
      ],
    },
  );
}

/** Too much charge, a dirty outdoor coil and a weak compressor flood too: head and subcooling tell. */
function provenFlooding(facts: Facts): Weighed {
  return weighPattern(
    {
      id: 'floods_and_does_not_follow',
      statement:
        'Superheat low at normal subcooling and normal head, and the valve does not follow its tight bulb; airflow cleared.',
      direction: 'for',
      weight: 'decisive',
    },
    {
      keys: [
        whenState(superheatState(facts), ['low'], ['high', 'fine']),
        whenState(subcoolingState(facts), ['fine'], ['low', 'high']),
        whenState(headState(facts), ['fine'], ['low', 'high']),
        whenObserved(facts, 'superheat_follows_bulb', 'no'),
      ],
      others: [whenState(suctionState(facts), ['high'], ['low'])],
      agreeingMin: 4,
      provided: [
        ...whenCircuitReadable(facts),
        whenAirflowVerified(facts),
        whenObserved(facts, 'sensing_bulb_loose', 'no'),
      ],
    },
  );
}

function starvingPattern(facts: Facts): Weighed {
  return weighPattern(
    {
      id: 'starving_pattern',
      statement: 'Superheat high at good subcooling, with suction or air split low.',
      direction: 'for',
      weight: 'indicative',
    },
    {
      keys: [
        whenState(superheatState(facts), ['high'], ['low', 'fine']),
        whenSubcoolingNotLow(facts),
      ],
      others: [
        whenState(suctionState(facts), ['low'], ['high']),
        whenState(splitState(facts), ['low'], ['high']),
      ],
      agreeingMin: 3,
      provided: [...whenCircuitReadable(facts), whenAirflowNotBad(facts)],
    },
  );
}

function floodingPattern(facts: Facts): Weighed {
  return weighPattern(
    {
      id: 'flooding_pattern',
      statement: 'Superheat low at normal subcooling, with head and suction not saying otherwise.',
      direction: 'for',
      weight: 'indicative',
    },
    {
      keys: [
        whenState(superheatState(facts), ['low'], ['high', 'fine']),
        whenState(subcoolingState(facts), ['fine'], ['low', 'high']),
      ],
      others: [
        whenState(headState(facts), ['fine'], ['low', 'high']),
        whenState(suctionState(facts), ['high'], ['low']),
        whenState(splitState(facts), ['low'], ['high']),
      ],
      agreeingMin: 3,
      provided: [...whenCircuitReadable(facts), whenAirflowNotBad(facts)],
    },
  );
}

function doesNotFollowBulb(facts: Facts): Weighed {
  return weighObservation(facts, {
    id: 'does_not_follow_bulb',
    statement: 'Warming the sensing bulb by hand does not raise the suction pressure.',
    direction: 'for',
    code: 'superheat_follows_bulb',
    answer: 'no',
    weight: 'indicative',
  });
}

function followsBulb(facts: Facts): Weighed {
  return weighObservation(facts, {
    id: 'follows_bulb',
    direction: 'against',
    code: 'superheat_follows_bulb',
    weight: 'indicative',
  });
}

/** The published test of a metering device: it works where it holds its superheat. */
function holdsSuperheat(facts: Facts): Weighed {
  return weighPattern(
    {
      id: 'holds_superheat',
      statement: 'The superheat is where the metering device should hold it.',
      direction: 'against',
      weight: 'decisive',
    },
    {
      keys: [whenState(superheatState(facts), ['fine'], ['low', 'high'])],
      others: [],
      agreeingMin: 1,
      provided: whenCircuitReadable(facts),
    },
  );
}
