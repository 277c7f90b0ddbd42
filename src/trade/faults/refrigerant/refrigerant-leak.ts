import type { Facts } from '../../facts/admit-evidence.ts';
import { anyOf } from '../../verdicts/any-of.ts';
import type { Weighed } from '../../verdicts/verdict.ts';
import { weighObservation } from '../../verdicts/weigh-observation.ts';
import { weighTogether } from '../../verdicts/weigh-together.ts';
import { whenObserved } from '../../verdicts/when-observed.ts';
import { whenWeighed } from '../../verdicts/when-weighed.ts';
import type { EquipmentKind } from '../../words/equipment-kinds.ts';
import { openCircuitCautions } from '../cautions.ts';
import { everythingRuns } from '../expectations.ts';
import type { Fault } from '../fault.ts';
import { lowChargeSigns, weighedLow } from './low-charge-signs.ts';

/** Every machine that refrigerant runs through. */
const circuitKinds = [
  'condensing_unit',
  'heat_pump',
  'package_unit',
  'mini_split',
  'evaporator_coil',
  'air_handler',
] as const satisfies readonly EquipmentKind[];

export const refrigerantLeak = {
  name: 'Refrigerant leak',
  explanation:
    'A cooling system is sealed, and its refrigerant is never used up. Where a joint, a coil or a valve has a hole, however small, refrigerant leaks out and the system cools less and less. New refrigerant leaks out the same way until the hole is found and closed.',
  partOfSystem: 'refrigerant',
  role: 'cause',
  kinds: circuitKinds,
  dear: false,
  cautions: [
    ...openCircuitCautions,
    'Air the room while searching: leaked refrigerant displaces the air, and some kinds can burn.',
  ],
  exclusions: [],
  remedies: [
    { task: 'search_leak', remedyClass: 'diagnose', needs: 'supported', partCategories: [] },
    {
      task: 'repair_leak',
      remedyClass: 'repair',
      needs: 'proven',
      partCategories: ['filter_drier', 'refrigerant'],
    },
  ],
  rules: { criteria: weighLeak },
  settledBy: ['search_for_leak'],
  perThousand: 25,
  expects: {
    ...everythingRuns,
    suction: { low: 0.75, high: 0.02 },
    head: { low: 0.5, high: 0.02 },
    superheat: { high: 0.75, low: 0.02 },
    subcooling: { low: 0.8, high: 0.02 },
    split: { low: 0.85, high: 0.01 },
    compressor_amps: { normal: 0.95 },
    filter_drier_drop: { high: 0.01 },
    charge: { low: 0.85, over: 0.005 },
    ice_on_coil_or_line: 0.25,
    refrigerant_oil_seen: 0.6,
    leak_detector_alarms: 0.85,
    bubbles_at_leak: 0.8,
    outdoor_coil_cleared_pressure_fell: 0.02,
  },
} as const satisfies Fault;

function weighLeak(facts: Facts): Weighed[] {
  const lowByWeight = weighedLow(facts, 'indicative');
  const lowByReadings = lowChargeSigns(facts);
  const alarms = whenObserved(facts, 'leak_detector_alarms');
  return [
    weighObservation(facts, {
      id: 'bubbles',
      direction: 'for',
      code: 'bubbles_at_leak',
      weight: 'photoDecides',
    }),
    // A detector alarms at cleaners and foams too: it takes a second sign of another kind.
    weighObservation(facts, {
      id: 'detector_alarms',
      direction: 'for',
      code: 'leak_detector_alarms',
      weight: 'indicative',
    }),
    weighTogether(
      {
        id: 'alarms_and_bubbles',
        statement: 'The leak detector alarms at one place, and leak solution bubbles.',
        direction: 'for',
        weight: 'decisive',
      },
      alarms,
      [whenObserved(facts, 'bubbles_at_leak')],
    ),
    weighTogether(
      {
        id: 'alarms_and_charge_low',
        statement: 'The leak detector alarms twice at one place, and the charge is low.',
        direction: 'for',
        weight: 'decisive',
      },
      alarms,
      [
        anyOf(
          'Weigh the charge, or read the gauges.',
          [lowByWeight, ...lowByReadings].map(whenWeighed),
        ),
      ],
    ),
    weighObservation(facts, {
      id: 'oil_seen',
      direction: 'for',
      code: 'refrigerant_oil_seen',
      weight: 'indicative',
    }),
    lowByWeight,
    ...lowByReadings,
    weighTogether(
      {
        id: 'searched_in_vain',
        statement:
          'The circuit was searched; neither the detector nor leak solution showed a place.',
        direction: 'against',
        weight: 'indicative',
      },
      whenObserved(facts, 'refrigerant_leak_looked_for'),
      [
        whenObserved(facts, 'leak_detector_alarms', 'no'),
        whenObserved(facts, 'bubbles_at_leak', 'no'),
      ],
    ),
  ];
}
