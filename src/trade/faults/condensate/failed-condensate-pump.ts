import type { Facts } from '../../facts/admit-evidence.ts';
import { measuredAt } from '../../facts/measured.ts';
import { measuredNear } from '../../facts/measured-near.ts';
import { lineVoltsMin } from '../../facts/supply-volts.ts';
import type { Weighed } from '../../verdicts/verdict.ts';
import { weighLimit } from '../../verdicts/weigh-limit.ts';
import { weighObservation } from '../../verdicts/weigh-observation.ts';
import { weighTogether } from '../../verdicts/weigh-together.ts';
import { whenMeasured } from '../../verdicts/when-measured.ts';
import { whenObserved } from '../../verdicts/when-observed.ts';
import { cautions } from '../cautions.ts';
import { openFloatScenes } from '../expectations.ts';
import type { Fault } from '../fault.ts';
import { drainedKinds } from './drained-kinds.ts';

/** Pumps for 115 V and for 230 V exist; below this neither is fed. Common practice, no source. */
const pumpVoltsMin = 100;

export const failedCondensatePump = {
  name: 'Failed condensate pump',
  explanation:
    'A small pump lifts the water of the cooling coil out of the house where it cannot run off by itself. When the pump fails, its tank fills up; a safety switch then stops the cooling, or the tank overflows.',
  partOfSystem: 'condensate',
  role: 'cause',
  kinds: drainedKinds,
  dear: false,
  cautions: [
    cautions.liveMeasurement,
    'Unplug the pump before reaching into its tank; water and line voltage stand side by side.',
    cautions.neverBypass,
  ],
  exclusions: [
    {
      statement: 'The voltage at the pump was measured: a pump that is unplugged does not run.',
      doneWhen: [{ point: 'condensate_pump_supply', quantity: 'voltage' }],
    },
  ],
  remedies: [
    {
      task: 'replace_condensate_pump',
      remedyClass: 'replace',
      needs: 'supported',
      partCategories: ['condensate_pump'],
    },
  ],
  rules: { criteria: weighPump },
  settledBy: ['test_condensate_pump'],
  perThousand: 8,
  expects: {
    condensate_pump_runs_when_filled: 0.03,
    condensate_pump_volts: { fine: 0.97 },
    drain_pan_full: 0.6,
    drain_pan_dry: 0.15,
    drain_flows_when_tested: 0.8,
    drain_blockage_drawn_out: 0.02,
    float_switch_raised: 0.8,
    float_switch_passes: { no: 0.93 },
  },
  scenes: openFloatScenes,
} as const satisfies Fault;

function weighPump(facts: Facts): Weighed[] {
  const supply = measuredAt(facts, 'condensate_pump_supply', 'voltage');
  const stands = whenObserved(facts, 'condensate_pump_runs_when_filled', 'no');
  return [
    weighTogether(
      {
        id: 'fed_and_filled_and_stands',
        statement: 'Fed and its tank filled, the pump does not run.',
        direction: 'for',
        weight: 'decisive',
      },
      stands,
      [
        whenMeasured(
          measuredNear(facts, 'condensate_pump_supply', 'voltage', stands),
          'voltage at the pump',
          'above',
          pumpVoltsMin,
        ),
      ],
    ),
    weighObservation(facts, {
      id: 'does_not_run',
      statement: 'With its tank filled the pump does not run.',
      direction: 'for',
      code: 'condensate_pump_runs_when_filled',
      answer: 'no',
      weight: 'indicative',
    }),
    weighObservation(facts, {
      id: 'runs',
      direction: 'against',
      code: 'condensate_pump_runs_when_filled',
      weight: 'decisive',
    }),
    weighLimit(
      {
        id: 'not_fed',
        statement: 'The pump has no voltage: a sound one would not run either.',
        direction: 'against',
        weight: 'indicative',
      },
      supply,
      {
        label: 'Voltage at the condensate pump',
        metWhen: 'below',
        limit: lineVoltsMin,
        because: 'no voltage is below',
      },
    ),
  ];
}
