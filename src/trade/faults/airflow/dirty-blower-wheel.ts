import type { Facts } from '../../facts/admit-evidence.ts';
import type { Weighed } from '../../verdicts/verdict.ts';
import { weighObservation } from '../../verdicts/weigh-observation.ts';
import { weighTogether } from '../../verdicts/weigh-together.ts';
import { blowerKinds } from '../../words/kinds.ts';
import { cautions } from '../cautions.ts';
import type { Fault } from '../fault.ts';
import { whenEnoughAir } from './air-conditions.ts';
import { tooLittleAir } from './too-little-air.ts';

export const dirtyBlowerWheel = {
  name: 'Dirty blower wheel',
  explanation:
    'The blower moves the air of the house with the curved blades of a wheel. Dust that fills the curve of the blades makes them slip through the air: the wheel turns as fast as ever and moves much less. Cleaning the blades brings the air back.',
  partOfSystem: 'airflow',
  role: 'cause',
  kinds: blowerKinds,
  dear: false,
  cautions: [
    cautions.lockOut,
    cautions.storedCharge,
    'Never pry off the balance clips of the wheel: it would shake its motor to death.',
  ],
  exclusions: [],
  remedies: [
    { task: 'clean_blower_wheel', remedyClass: 'clean', needs: 'supported', partCategories: [] },
  ],
  rules: { criteria: weighWheel },
  settledBy: ['spin_blower', 'measure_static_pressure'],
  perThousand: 4,
  expects: {
    ...tooLittleAir,
    blower_wheel_dirty: 0.97,
    // What moves little air builds up little pressure: this tells it from a blockage.
    external_static: { high: 0.03 },
    filter_drop: { high: 0.05 },
    indoor_coil_drop: { high: 0.05 },
    filter_dirty: 0.3,
    indoor_coil_dirty: 0.3,
  },
} as const satisfies Fault;

function weighWheel(facts: Facts): Weighed[] {
  return [
    weighObservation(facts, {
      id: 'seen_dirty',
      direction: 'for',
      code: 'blower_wheel_dirty',
      weight: 'photoDecides',
    }),
    weighObservation(facts, {
      id: 'seen_clean',
      statement: 'The blades of the blower wheel are clean.',
      direction: 'against',
      code: 'blower_wheel_dirty',
      answer: 'no',
      weight: 'decisive',
    }),
    weighTogether(
      {
        id: 'enough_air',
        statement: 'The blower moves enough air.',
        direction: 'against',
        weight: 'indicative',
      },
      whenEnoughAir(facts),
      [],
    ),
  ];
}
