import type { Facts } from '../../facts/admit-evidence.ts';
import { measuredAt } from '../../facts/measured.ts';
import type { Weighed } from '../../verdicts/verdict.ts';
import { weighLimit } from '../../verdicts/weigh-limit.ts';
import { weighObservation } from '../../verdicts/weigh-observation.ts';
import { weighTogether } from '../../verdicts/weigh-together.ts';
import { whenMeasured } from '../../verdicts/when-measured.ts';
import { whenObserved } from '../../verdicts/when-observed.ts';
import { cautions } from '../cautions.ts';
import { everythingRuns } from '../expectations.ts';
import type { Fault } from '../fault.ts';
import { valveCoilOhms, whenValveCoilFed } from './valve-conditions.ts';

export const failedReversingValveCoil = {
  name: 'Failed coil of the reversing valve',
  explanation:
    'A heat pump turns from heating to cooling with a valve in the outdoor unit, and an electric coil on the valve moves it. When the wire of the coil breaks, the valve stays where it is and the system may heat where it should cool. The coil is changed without opening the refrigerant circuit.',
  partOfSystem: 'heat_pump',
  role: 'cause',
  kinds: ['heat_pump'],
  dear: false,
  cautions: [
    cautions.lockOut,
    cautions.liveMeasurement,
    'Do not leave a fed coil off its valve: it burns out within minutes.',
  ],
  exclusions: [
    {
      statement: 'The coil was measured: a valve that sticks stays too.',
      doneWhen: [
        { observation: 'reversing_valve_coil_reads_open', answers: ['yes'] },
        { point: 'reversing_valve_coil', quantity: 'resistance' },
      ],
    },
  ],
  remedies: [
    {
      task: 'replace_reversing_valve_coil',
      remedyClass: 'replace',
      needs: 'supported',
      partCategories: ['reversing_valve_coil'],
    },
  ],
  rules: { criteria: weighCoil },
  settledBy: ['switch_reversing_valve'],
  perThousand: 3,
  expects: {
    ...everythingRuns,
    blows_warm_in_cooling: 0.8,
    reversing_valve_shifts: 0.03,
    reversing_valve_coil_reads_open: 0.88,
    reversing_valve_coil: { fine: 0.95 },
    reversing_valve_lines: { fine: 0.97 },
    split: { low: 0.95 },
  },
} as const satisfies Fault;

function weighCoil(facts: Facts): Weighed[] {
  const stays = whenObserved(facts, 'reversing_valve_shifts', 'no');
  const ohms = measuredAt(facts, 'reversing_valve_coil', 'resistance');
  return [
    weighObservation(facts, {
      id: 'coil_open',
      direction: 'for',
      code: 'reversing_valve_coil_reads_open',
      weight: 'decisive',
    }),
    // With its wires still on, the winding of the transformer beside it reads as low.
    weighLimit(
      {
        id: 'coil_shorted',
        statement: 'The coil has less than 2 ohm.',
        direction: 'for',
        weight: 'indicative',
      },
      ohms,
      {
        label: 'Coil of the reversing valve',
        metWhen: 'below',
        limit: valveCoilOhms.short,
        because: 'a short is below',
      },
    ),
    weighTogether(
      {
        id: 'fed_and_stays',
        statement: 'The coil has its 24 V and the valve does not shift.',
        direction: 'for',
        weight: 'indicative',
      },
      stays,
      [whenValveCoilFed(facts, stays)],
    ),
    weighTogether(
      {
        id: 'coil_sound',
        statement: 'The coil is neither open nor shorted.',
        direction: 'against',
        weight: 'decisive',
      },
      whenMeasured(ohms, 'coil of the reversing valve', 'below', valveCoilOhms.open),
      [whenMeasured(ohms, 'coil of the reversing valve', 'above', valveCoilOhms.short)],
    ),
    weighObservation(facts, {
      id: 'valve_shifts',
      direction: 'against',
      code: 'reversing_valve_shifts',
      weight: 'decisive',
    }),
  ];
}
