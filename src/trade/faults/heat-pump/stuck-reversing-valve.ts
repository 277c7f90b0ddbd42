import type { Facts } from '../../facts/admit-evidence.ts';
import { suctionState } from '../../facts/circuit-state.ts';
import { reversingValveRise } from '../../facts/reversing-valve-rise.ts';
import type { Weighed } from '../../verdicts/verdict.ts';
import { weighObservation } from '../../verdicts/weigh-observation.ts';
import { weighTogether } from '../../verdicts/weigh-together.ts';
import { whenMeasured } from '../../verdicts/when-measured.ts';
import { whenObserved } from '../../verdicts/when-observed.ts';
import { whenState } from '../../verdicts/when-state.ts';
import { cautions, openCircuitCautions } from '../cautions.ts';
import { everythingRuns } from '../expectations.ts';
import type { Fault } from '../fault.ts';
import { whenCircuitReadable } from '../refrigerant/when-circuit-readable.ts';
import {
  whenPressureMovesValve,
  whenRanThen,
  whenValveCoilFed,
  whenValveCoilSound,
} from './valve-conditions.ts';
import { valveRiseDegF } from './valve-rise-limits.ts';

export const stuckReversingValve = {
  name: 'Stuck or leaking reversing valve',
  explanation:
    'A heat pump cools in summer and heats in winter by turning its refrigerant round, and a valve in the outdoor unit does the turning. When the valve sticks, the system blows warm where it should cool; when it leaks inside, hot gas goes round in a circle and little cooling is left.',
  partOfSystem: 'heat_pump',
  role: 'cause',
  kinds: ['heat_pump'],
  dear: true,
  cautions: [
    cautions.lockOut,
    cautions.liveMeasurement,
    ...openCircuitCautions,
    'Do not strike the valve: a dent jams it for good.',
  ],
  exclusions: [
    {
      statement: 'The voltage at the coil of the valve was measured, or its lines were.',
      doneWhen: [
        { point: 'reversing_valve_coil', quantity: 'voltage' },
        { point: 'reversing_valve_suction_out', quantity: 'temperature' },
      ],
    },
    {
      statement: 'Its pressures were measured: without pressure no reversing valve moves.',
      doneWhen: [{ point: 'liquid_port', quantity: 'gauge_pressure' }],
    },
  ],
  remedies: [
    {
      task: 'replace_reversing_valve',
      remedyClass: 'replace',
      needs: 'proven',
      partCategories: ['reversing_valve', 'filter_drier', 'refrigerant'],
    },
  ],
  rules: { criteria: weighValve },
  settledBy: ['switch_reversing_valve', 'measure_reversing_valve_lines', 'read_gauges'],
  perThousand: 4,
  expects: {
    ...everythingRuns,
    blows_warm_in_cooling: 0.6,
    reversing_valve_shifts: 0.15,
    reversing_valve_lines: { leaks: 0.6 },
    reversing_valve_coil: { fine: 0.97 },
    reversing_valve_coil_reads_open: 0.01,
    suction: { high: 0.4 },
    head: { low: 0.45 },
    split: { low: 0.97 },
  },
} as const satisfies Fault;

function weighValve(facts: Facts): Weighed[] {
  const rise = reversingValveRise(facts);
  const stays = whenObserved(facts, 'reversing_valve_shifts', 'no');
  const what = 'rise of the suction line across the reversing valve';
  const runs = whenObserved(facts, 'compressor_running');
  return [
    weighTogether(
      {
        id: 'fed_and_stays',
        statement:
          'Its sound coil has its 24 V, the compressor has built the pressure to move it, and in these minutes it stays.',
        direction: 'for',
        weight: 'decisive',
      },
      stays,
      [
        whenValveCoilFed(facts, stays),
        ...whenValveCoilSound(facts),
        whenRanThen(facts, stays),
        whenPressureMovesValve(facts, stays),
      ],
    ),
    weighTogether(
      {
        id: 'leaks_across',
        statement:
          'Running, with enough gas coming back, the suction gas warms by more than 10 F in the valve.',
        direction: 'for',
        weight: 'decisive',
      },
      whenMeasured(rise, what, 'above', valveRiseDegF.leaking),
      // Little gas warms by as much on its way through a tight valve.
      [
        runs,
        ...whenCircuitReadable(facts),
        whenState(suctionState(facts), ['fine', 'high'], ['low']),
      ],
    ),
    weighTogether(
      {
        id: 'warms_across',
        statement: 'The suction gas warms by more than 5 F in the valve.',
        direction: 'for',
        weight: 'indicative',
      },
      whenMeasured(rise, what, 'above', valveRiseDegF.suspected),
      [],
    ),
    weighTogether(
      {
        id: 'called_and_stays',
        statement: 'Its coil has its 24 V and the valve does not shift.',
        direction: 'for',
        weight: 'indicative',
      },
      stays,
      [whenValveCoilFed(facts, stays)],
    ),
    weighTogether(
      {
        id: 'shifts_and_is_tight',
        statement: 'It shifts when it is switched and its suction lines are alike.',
        direction: 'against',
        weight: 'decisive',
      },
      whenObserved(facts, 'reversing_valve_shifts'),
      [whenMeasured(rise, what, 'below', valveRiseDegF.suspected)],
    ),
    weighObservation(facts, {
      id: 'shifts',
      direction: 'against',
      code: 'reversing_valve_shifts',
      weight: 'indicative',
    }),
  ];
}
