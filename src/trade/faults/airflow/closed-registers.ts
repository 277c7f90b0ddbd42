import type { Facts } from '../../facts/admit-evidence.ts';
import { blowerStaticOf } from '../../facts/duct-pressure.ts';
import { plateOf } from '../../facts/plate-of.ts';
import type { Weighed } from '../../verdicts/verdict.ts';
import { weighObservation } from '../../verdicts/weigh-observation.ts';
import { weighTogether } from '../../verdicts/weigh-together.ts';
import { whenMeasured } from '../../verdicts/when-measured.ts';
import { whenObserved } from '../../verdicts/when-observed.ts';
import type { Fault } from '../fault.ts';
import { whenCoilPasses, whenFilterPasses } from './air-conditions.ts';
import { ductedKinds } from './ducted-kinds.ts';
import { tooLittleAir } from './too-little-air.ts';

export const closedRegisters = {
  name: 'Closed registers',
  explanation:
    'Registers let the cooled air into the rooms, and return grilles let it back to the machine. Where several are shut, or stand behind furniture and rugs, the machine works against closed doors: less air moves, and it cools less. Closing rooms saves nothing; with them open the air flows again.',
  partOfSystem: 'airflow',
  role: 'cause',
  kinds: ductedKinds,
  dear: false,
  cautions: ['Ask before moving furniture or rugs, and mind the ladder at ceiling registers.'],
  exclusions: [],
  remedies: [
    { task: 'open_registers', remedyClass: 'adjust', needs: 'supported', partCategories: [] },
  ],
  rules: { criteria: weighRegisters },
  settledBy: ['look_at_registers', 'measure_static_pressure', 'look_at_ducts'],
  perThousand: 4,
  expects: {
    ...tooLittleAir,
    registers_closed: 0.98,
    external_static: { high: 0.85 },
    filter_drop: { high: 0.04 },
    indoor_coil_drop: { high: 0.03 },
  },
} as const satisfies Fault;

function weighRegisters(facts: Facts): Weighed[] {
  return [
    weighObservation(facts, {
      id: 'seen_closed',
      direction: 'for',
      code: 'registers_closed',
      weight: 'indicative',
    }),
    // A shut bedroom is harmless while the blower has enough other ways, and a dirty filter or coil
    // or a crushed duct would drive up the pressure just as well. The usual limit is not enough:
    // some blowers are made for twice as much.
    weighTogether(
      {
        id: 'closed_and_pressure_high',
        statement:
          'Registers or returns are closed, and with filter, coil and ducts in order the blower works against more than its plate allows.',
        direction: 'for',
        weight: 'decisive',
      },
      whenMeasured(
        blowerStaticOf(facts),
        'total external static pressure',
        'above',
        plateOf(facts, 'externalStaticMaxInWc'),
      ),
      [
        whenObserved(facts, 'registers_closed'),
        whenFilterPasses(facts),
        whenCoilPasses(facts),
        whenObserved(facts, 'duct_blocked_or_loose', 'no'),
      ],
    ),
    weighObservation(facts, {
      id: 'seen_open',
      statement: 'Registers and returns are open and free.',
      direction: 'against',
      code: 'registers_closed',
      answer: 'no',
      weight: 'decisive',
    }),
  ];
}
