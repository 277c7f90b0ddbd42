import { controlVoltsMin, deadVoltsMax } from '../../electrical/control-volts.ts';
import type { Facts } from '../../facts/admit-evidence.ts';
import { measuredAt } from '../../facts/measured.ts';
import type { Weighed } from '../../verdicts/verdict.ts';
import { type Condition, weighTogether } from '../../verdicts/weigh-together.ts';
import { whenMeasured } from '../../verdicts/when-measured.ts';
import { whenObserved } from '../../verdicts/when-observed.ts';
import { cautions } from '../cautions.ts';
import { openFloatScenes } from '../expectations.ts';
import type { Fault } from '../fault.ts';
import { drainedKinds } from './drained-kinds.ts';

export const failedFloatSwitch = {
  name: 'Failed float switch',
  explanation:
    'A float switch stops the cooling when water stands in the drain pan. When the switch itself fails or its float sticks, it stops the cooling although the pan is dry. A new one protects the house from water as before.',
  partOfSystem: 'condensate',
  role: 'cause',
  kinds: drainedKinds,
  dear: false,
  cautions: [cautions.neverBypass, cautions.lowVoltage],
  exclusions: [
    {
      statement: 'The pan was looked into: in a full one an open switch does its work.',
      doneWhen: [
        { observation: 'drain_pan_dry', answers: ['yes', 'no'] },
        { observation: 'drain_pan_full', answers: ['yes', 'no'] },
      ],
    },
  ],
  remedies: [
    {
      task: 'replace_float_switch',
      remedyClass: 'replace',
      needs: 'supported',
      partCategories: ['float_switch'],
    },
  ],
  rules: { criteria: weighFailure },
  settledBy: ['measure_float_switch', 'look_at_drain_pan'],
  perThousand: 5,
  expects: {
    float_switch_passes: { no: 0.96 },
    float_switch_raised: 0.15,
    float_switch_moves_freely: 0.75,
    drain_pan_full: 0.01,
    drain_pan_dry: 0.85,
    drain_flows_when_tested: 0.97,
    drain_blockage_drawn_out: 0.02,
  },
  scenes: openFloatScenes,
} as const satisfies Fault;

/** A switch is never a proven cause: its wires and a pan that ran dry since show the same. */
function weighFailure(facts: Facts): Weighed[] {
  const after = measuredAt(facts, 'float_switch_out', 'voltage');
  const passing = whenMeasured(after, 'after the float switch', 'above', controlVoltsMin);
  const dead = whenMeasured(after, 'after the float switch', 'below', deadVoltsMax);
  const notRaised = whenObserved(facts, 'float_switch_raised', 'no');
  return [
    weighTogether(
      {
        id: 'open_over_dry_pan',
        statement:
          'The pan is dry, the float is down and free, 24 V reaches the switch and nothing leaves it.',
        direction: 'for',
        weight: 'indicative',
      },
      dead,
      [
        whenSwitchFed(facts),
        whenObserved(facts, 'drain_pan_dry'),
        notRaised,
        whenObserved(facts, 'float_switch_moves_freely'),
      ],
    ),
    weighTogether(
      {
        id: 'float_sticks',
        statement: 'The float of the switch sticks although the pan is dry.',
        direction: 'for',
        weight: 'indicative',
      },
      whenObserved(facts, 'float_switch_moves_freely', 'no'),
      [whenObserved(facts, 'drain_pan_dry')],
    ),
    weighTogether(
      {
        id: 'passes_though_raised',
        statement:
          'The float is raised and the switch passes its 24 V on: it would let the pan overflow.',
        direction: 'for',
        weight: 'indicative',
      },
      passing,
      [whenObserved(facts, 'float_switch_raised')],
    ),
    weighTogether(
      {
        id: 'passes_with_float_down',
        statement: 'With its float down the switch passes its 24 V on.',
        direction: 'against',
        weight: 'decisive',
      },
      passing,
      [notRaised],
    ),
    weighTogether(
      {
        id: 'open_over_full_pan',
        statement: 'The pan is full and the switch open: it does its work.',
        direction: 'against',
        weight: 'indicative',
      },
      whenObserved(facts, 'drain_pan_full'),
      [dead],
    ),
  ];
}

function whenSwitchFed(facts: Facts): Condition {
  const settled = measuredAt(facts, 'float_switch_in', 'voltage');
  return whenMeasured(settled, 'before the float switch', 'above', controlVoltsMin);
}
