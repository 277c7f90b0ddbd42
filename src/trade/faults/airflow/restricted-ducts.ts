import type { Facts } from '../../facts/admit-evidence.ts';
import { blowerStaticLimit, blowerStaticOf, ductShareOf } from '../../facts/duct-pressure.ts';
import { plateOf } from '../../facts/plate-of.ts';
import type { Weighed } from '../../verdicts/verdict.ts';
import { weighObservation } from '../../verdicts/weigh-observation.ts';
import { weighTogether } from '../../verdicts/weigh-together.ts';
import { whenMeasured } from '../../verdicts/when-measured.ts';
import { whenObserved } from '../../verdicts/when-observed.ts';
import { everythingRuns } from '../expectations.ts';
import type { Fault } from '../fault.ts';
import { whenCoilPasses, whenFilterPasses } from './air-conditions.ts';
import { ductedKinds } from './ducted-kinds.ts';
import { tooLittleAir } from './too-little-air.ts';

export const restrictedDucts = {
  name: 'Restricted or loose ducts',
  explanation:
    'Ducts carry the air from the machine to the rooms and back. A duct that is crushed, blocked or too small holds the air back; one that has come loose cools the attic instead of the house. The machine itself may then be in order while the rooms stay warm.',
  partOfSystem: 'airflow',
  role: 'cause',
  kinds: ductedKinds,
  dear: false,
  cautions: [
    'Attics grow dangerously hot: drink, take breaks, and let somebody know that you are up there.',
    'Step on joists only. Do not disturb old insulation or duct wrap that may hold asbestos.',
  ],
  exclusions: [
    {
      statement: 'Look at the filter.',
      doneWhen: [
        { observation: 'filter_dirty', answers: ['yes', 'no'] },
        { point: 'filter_drop', quantity: 'static_pressure' },
      ],
    },
    {
      statement: 'Look at the indoor coil, or measure the pressure across it.',
      doneWhen: [
        { observation: 'indoor_coil_dirty', answers: ['yes', 'no'] },
        { point: 'indoor_coil_drop', quantity: 'static_pressure' },
      ],
    },
  ],
  remedies: [
    { task: 'repair_duct', remedyClass: 'repair', needs: 'proven', partCategories: [] },
    { task: 'advise_duct_work', remedyClass: 'advise', needs: 'supported', partCategories: [] },
  ],
  rules: { criteria: weighDucts },
  settledBy: ['look_at_ducts', 'measure_static_pressure'],
  perThousand: 4,
  expects: {
    duct_blocked_or_loose: 0.95,
    filter_drop: { high: 0.04 },
    indoor_coil_drop: { high: 0.03 },
  },
  scenes: [
    // Crushed, blocked or too small, it holds the air back.
    { share: 0.55, expects: { ...tooLittleAir, external_static: { high: 0.9 } } },
    // Come loose, it takes nothing from the machine: its cold air is lost on the way.
    {
      share: 0.45,
      expects: {
        ...everythingRuns,
        split: { fine: 0.85 },
        external_static: { high: 0.08 },
        suction: { fine: 0.9 },
        superheat: { fine: 0.9 },
        subcooling: { fine: 0.9 },
      },
    },
  ],
} as const satisfies Fault;

function weighDucts(facts: Facts): Weighed[] {
  const limitInH2O = blowerStaticLimit(facts).limitInH2O;
  const whatStatic = 'total external static pressure';
  const registersOpen = whenObserved(facts, 'registers_closed', 'no');
  return [
    weighObservation(facts, {
      id: 'seen',
      direction: 'for',
      code: 'duct_blocked_or_loose',
      weight: 'photoDecides',
    }),
    weighTogether(
      {
        id: 'pressure_high',
        statement:
          'With filter and coil in order and the registers open, the blower works against more than it may.',
        direction: 'for',
        weight: 'indicative',
      },
      whenMeasured(blowerStaticOf(facts), whatStatic, 'above', limitInH2O),
      [whenFilterPasses(facts), whenCoilPasses(facts), registersOpen],
    ),
    // The usual limit is not enough here: some blowers are made for twice as much.
    weighTogether(
      {
        id: 'ducts_take_it_all',
        statement:
          'With the registers open the ducts alone take more than the plate allows for everything.',
        direction: 'for',
        weight: 'decisive',
      },
      whenMeasured(
        ductShareOf(facts),
        'pressure that the ducts take',
        'above',
        plateOf(facts, 'externalStaticMaxInWc'),
      ),
      [registersOpen],
    ),
    weighObservation(facts, {
      id: 'looked_along',
      statement: 'No duct was found crushed, blocked or loose.',
      direction: 'against',
      code: 'duct_blocked_or_loose',
      answer: 'no',
      weight: 'indicative',
    }),
    weighTogether(
      {
        id: 'pressure_in_order',
        statement: 'The blower works against no more than it may.',
        direction: 'against',
        weight: 'indicative',
      },
      whenMeasured(blowerStaticOf(facts), whatStatic, 'below', limitInH2O),
      [],
    ),
  ];
}
