import type { Nameplate } from '../../evidence.ts';
import type { Facts } from '../../facts/admit-evidence.ts';
import { superheatState } from '../../facts/circuit-state.ts';
import type { Weighed } from '../../verdicts/verdict.ts';
import { weighObservation } from '../../verdicts/weigh-observation.ts';
import { weighPattern } from '../../verdicts/weigh-pattern.ts';
import { whenState } from '../../verdicts/when-state.ts';
import { indoorCoilKinds } from '../../words/kinds.ts';
import { cautions } from '../cautions.ts';
import { everythingRuns } from '../expectations.ts';
import type { Fault } from '../fault.ts';
import { whenCircuitReadable } from './when-circuit-readable.ts';

export const looseSensingBulb = {
  name: 'Loose sensing bulb',
  explanation:
    'A small bulb on the refrigerant pipe tells the valve of the indoor coil how warm the pipe is. When it has come loose or lost its wrap it feels the air instead, and the valve lets in too much refrigerant. Fastened and wrapped again, it works as before.',
  partOfSystem: 'refrigerant',
  role: 'cause',
  kinds: indoorCoilKinds,
  dear: false,
  cautions: [cautions.lockOut],
  exclusions: [],
  remedies: [
    {
      task: 'refasten_sensing_bulb',
      remedyClass: 'adjust',
      needs: 'supported',
      partCategories: [],
    },
  ],
  rules: { unfit: withoutBulb, criteria: weighBulb },
  settledBy: ['look_at_indoor_coil', 'read_gauges'],
  perThousand: 3,
  expects: {
    ...everythingRuns,
    sensing_bulb_loose: 0.97,
    superheat_follows_bulb: 0.8,
    superheat: { low: 0.7, high: 0.02 },
    suction: { high: 0.5, low: 0.03 },
    split: { low: 0.5 },
    pressures_hunt: 0.35,
    compressor_amps: { normal: 0.97 },
    charge: { fine: 0.92 },
  },
} as const satisfies Fault;

function withoutBulb({ meteringDevice }: Nameplate): string | undefined {
  switch (meteringDevice) {
    case 'fixed_orifice':
      return 'a fixed orifice has no sensing bulb';
    case 'eev':
      return 'an electronic valve has no sensing bulb';
    case 'txv':
    case undefined:
      return undefined;
  }
}

function weighBulb(facts: Facts): Weighed[] {
  return [
    weighObservation(facts, {
      id: 'bulb_loose',
      direction: 'for',
      code: 'sensing_bulb_loose',
      weight: 'photoDecides',
    }),
    weighObservation(facts, {
      id: 'bulb_tight',
      statement: 'The sensing bulb is tight and wrapped.',
      direction: 'against',
      code: 'sensing_bulb_loose',
      answer: 'no',
      weight: 'decisive',
    }),
    weighPattern(
      {
        id: 'superheat_high',
        statement: 'The superheat is high, where a bulb that feels warm air would flood the coil.',
        direction: 'against',
        weight: 'indicative',
      },
      {
        keys: [whenState(superheatState(facts), ['high'], ['low', 'fine'])],
        others: [],
        agreeingMin: 1,
        provided: whenCircuitReadable(facts),
      },
    ),
  ];
}
