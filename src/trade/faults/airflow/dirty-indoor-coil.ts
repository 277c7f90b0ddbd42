import { coilDropInH2O } from '../../air/pressure-drops.ts';
import type { Facts } from '../../facts/admit-evidence.ts';
import { pressureAcross } from '../../facts/duct-pressure.ts';
import type { Weighed } from '../../verdicts/verdict.ts';
import { weighObservation } from '../../verdicts/weigh-observation.ts';
import { weighTogether } from '../../verdicts/weigh-together.ts';
import { whenMeasured } from '../../verdicts/when-measured.ts';
import { whenObserved } from '../../verdicts/when-observed.ts';
import { indoorCoilKinds } from '../../words/kinds.ts';
import { cautions } from '../cautions.ts';
import type { Fault } from '../fault.ts';
import { unlessIced, whenEnoughAir, whenFilterPasses } from './air-conditions.ts';
import { tooLittleAir } from './too-little-air.ts';

export const dirtyIndoorCoil = {
  name: 'Dirty indoor coil',
  explanation:
    'The coil indoors takes the heat out of the air that passes between its thin metal fins. Dust that gets past the filter sticks to the damp fins like felt; less air then passes, the house cools slowly, and the coil can freeze. Cleaning opens the fins again.',
  partOfSystem: 'airflow',
  role: 'cause',
  kinds: indoorCoilKinds,
  dear: false,
  cautions: [
    cautions.lockOut,
    'Indoors only a cleaner made for indoor coils, with gloves and goggles, and the blower off: its fumes go where the air goes.',
    'Fins cut, and bend at a touch. Keep water off the electrical parts and see that the drain takes it.',
  ],
  exclusions: [
    {
      statement: 'Look at the filter.',
      doneWhen: [
        { observation: 'filter_dirty', answers: ['yes', 'no'] },
        { point: 'filter_drop', quantity: 'static_pressure' },
      ],
    },
  ],
  remedies: [
    { task: 'clean_indoor_coil', remedyClass: 'clean', needs: 'supported', partCategories: [] },
  ],
  rules: { criteria: weighCoil },
  settledBy: ['look_at_indoor_coil', 'measure_static_pressure'],
  perThousand: 10,
  expects: {
    ...tooLittleAir,
    indoor_coil_dirty: 0.97,
    indoor_coil_drop: { high: 0.9 },
    external_static: { high: 0.6 },
    filter_dirty: 0.3,
    filter_drop: { high: 0.1 },
    ice_on_coil_or_line: 0.3,
  },
} as const satisfies Fault;

function weighCoil(facts: Facts): Weighed[] {
  const drop = pressureAcross(facts, 'indoor_coil_drop');
  const what = 'pressure across the indoor coil';
  const takesTooMuch = whenMeasured(drop, what, 'above', coilDropInH2O.restricts);
  return [
    weighObservation(facts, {
      id: 'seen_dirty',
      direction: 'for',
      code: 'indoor_coil_dirty',
      weight: 'photoDecides',
    }),
    // A coil too small for its blower takes as much.
    weighTogether(
      {
        id: 'takes_too_much',
        statement: 'Without ice on it the indoor coil takes more pressure than a clean one.',
        direction: 'for',
        weight: 'indicative',
      },
      takesTooMuch,
      [unlessIced(facts)],
    ),
    weighTogether(
      {
        id: 'dirty_and_takes_too_much',
        statement: 'The face of the indoor coil is seen dirty, and the pressure across it is high.',
        direction: 'for',
        weight: 'decisive',
      },
      takesTooMuch,
      [whenObserved(facts, 'indoor_coil_dirty'), unlessIced(facts)],
    ),
    weighObservation(facts, {
      id: 'seen_clean',
      statement: 'The face of the indoor coil is clean.',
      direction: 'against',
      code: 'indoor_coil_dirty',
      answer: 'no',
      weight: 'photoDecides',
    }),
    // A filter that holds the air back makes the drop of any coil small.
    weighTogether(
      {
        id: 'takes_little',
        statement: 'With the filter in order the indoor coil takes no more than a clean one.',
        direction: 'against',
        weight: 'indicative',
      },
      whenMeasured(drop, what, 'below', coilDropInH2O.free),
      [whenFilterPasses(facts)],
    ),
    weighTogether(
      {
        id: 'enough_air',
        statement: 'Enough air passes the coil.',
        direction: 'against',
        weight: 'indicative',
      },
      whenEnoughAir(facts),
      [],
    ),
  ];
}
