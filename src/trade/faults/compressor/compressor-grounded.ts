import type { Facts } from '../../facts/admit-evidence.ts';
import { measuredAt, measuredFrom, readingsAt, settle } from '../../facts/measured.ts';
import type { Weighed } from '../../verdicts/verdict.ts';
import { weighLimit } from '../../verdicts/weigh-limit.ts';
import { weighObservation } from '../../verdicts/weigh-observation.ts';
import { cautions } from '../cautions.ts';
import { nothingRunsOutdoors } from '../expectations.ts';
import type { Fault } from '../fault.ts';
import { outdoorKinds } from '../kinds.ts';
import { replaceCompressor } from './replace-compressor.ts';

/**
 * What a compressor's insulation shows to ground, ohms. Below `grounded` it is broken down; between
 * that and `doubtful` liquid refrigerant, moisture or heat may do it too; above `sound` it is good.
 * Common practice, no source: makers ask for half a megohm to some megohms.
 */
export const toGroundOhms = { grounded: 100_000, doubtful: 1_000_000, sound: 2_000_000 } as const;

export const compressorGrounded = {
  name: 'Compressor grounded',
  explanation:
    'A compressor is the pump of the cooling system, driven by an electric motor sealed inside it. When the insulation of that motor breaks down, current flows into the metal shell instead of the motor and the breaker trips at once. It cannot be opened for repair.',
  partOfSystem: 'compressor',
  role: 'cause',
  kinds: outdoorKinds,
  dear: true,
  cautions: [
    cautions.lockOut,
    cautions.storedCharge,
    cautions.compressorTerminals,
    'Take the leads off and dry the terminals first: water, dirt and a grounded fan or wire read low too. Liquid refrigerant and a hot shell lower the reading of a sound compressor.',
    'Never use an insulation tester while the compressor is in a vacuum.',
  ],
  exclusions: [
    {
      statement: 'Its terminals were measured to ground with the leads off.',
      doneWhen: [{ point: 'compressor_to_ground', quantity: 'resistance' }],
    },
  ],
  remedies: replaceCompressor,
  rules: { criteria: weighGround },
  settledBy: ['measure_compressor_to_ground'],
  perThousand: 5,
  expects: {
    ...nothingRunsOutdoors,
    breaker_found_tripped: 0.9,
    breaker_trips_again: 0.93,
    breaker_holds_under_load: 0.04,
    line_volts: { none: 0.85 },
    disconnect_volts: { none: 0.8 },
    compressor_to_ground: { grounded: 0.97 },
    compressor_to_ground_reads_open: 0.02,
    contactor_by_hand_both_start: 0.03,
  },
} as const satisfies Fault;

function weighGround(facts: Facts): Weighed[] {
  const measured = measuredAt(facts, 'compressor_to_ground', 'resistance');
  const label = 'Compressor terminals to ground';
  return [
    weighLimit(
      {
        id: 'grounded',
        statement: 'The insulation to ground is below 100,000 ohm.',
        direction: 'for',
        weight: 'decisive',
      },
      measured,
      { label, metWhen: 'below', limit: toGroundOhms.grounded, because: 'broken down is below' },
    ),
    weighLimit(
      {
        id: 'insulation_low',
        statement: 'The insulation to ground is below a megohm.',
        direction: 'for',
        weight: 'indicative',
      },
      measured,
      { label, metWhen: 'below', limit: toGroundOhms.doubtful, because: 'doubtful is below' },
    ),
    weighLimit(
      {
        id: 'insulation_sound',
        statement: 'An insulation tester shows more than two megohms to ground.',
        direction: 'against',
        weight: 'decisive',
      },
      byInsulationTester(facts),
      { label, metWhen: 'above', limit: toGroundOhms.sound, because: 'sound is above' },
    ),
    // A few volts of a multimeter do not break down what 240 V does.
    weighObservation(facts, {
      id: 'reads_open_to_ground',
      direction: 'against',
      code: 'compressor_to_ground_reads_open',
      weight: 'indicative',
    }),
    weighObservation(facts, {
      id: 'runs',
      direction: 'against',
      code: 'compressor_running',
      weight: 'indicative',
    }),
  ];
}

function byInsulationTester(facts: Facts) {
  const readings = readingsAt(facts, 'compressor_to_ground', 'resistance');
  return settle(readings.filter(({ method }) => method === 'insulation_tester').map(measuredFrom));
}
