import type { Facts } from '../../facts/admit-evidence.ts';
import { isObserved, observed } from '../../facts/observed.ts';
import { remembered } from '../../facts/remembered-for.ts';
import type { Weighed } from '../../verdicts/verdict.ts';
import { weighObservation } from '../../verdicts/weigh-observation.ts';
import { openFloatScenes } from '../expectations.ts';
import type { Fault } from '../fault.ts';
import { drainedKinds } from './drained-kinds.ts';

export const pluggedDrain = {
  name: 'Plugged condensate drain',
  explanation:
    'Cooling draws water out of the air, and that water leaves through a drain pipe. Slime and dirt can plug the pipe; the water then stays in the pan until it overflows or a safety switch stops the cooling. Clearing the pipe lets the water run off again.',
  partOfSystem: 'condensate',
  role: 'cause',
  kinds: drainedKinds,
  dear: false,
  cautions: [
    'Clear the drain by suction at its outdoor end, never by pressure: pressure can burst a joint indoors.',
    'Keep water off the electrical parts; switch off before reaching into the pan.',
  ],
  exclusions: [],
  remedies: [
    {
      task: 'clear_condensate_drain',
      remedyClass: 'clean',
      needs: 'supported',
      partCategories: [],
    },
  ],
  rules: { criteria: weighDrain },
  settledBy: ['look_at_drain_pan', 'test_drain'],
  perThousand: 140,
  expects: {
    drain_pan_full: 0.96,
    drain_pan_dry: 0.01,
    float_switch_raised: 0.95,
    drain_flows_when_tested: 0.03,
    drain_blockage_drawn_out: 0.9,
    float_switch_passes: { no: 0.95 },
    condensate_pump_runs_when_filled: 0.98,
  },
  scenes: openFloatScenes,
} as const satisfies Fault;

function weighDrain(facts: Facts): Weighed[] {
  const untouched = untilCleared(facts);
  return [
    weighObservation(facts, {
      id: 'pan_full',
      direction: 'for',
      code: 'drain_pan_full',
      weight: 'indicative',
    }),
    weighObservation(facts, {
      id: 'does_not_flow',
      statement: 'Water poured into the drain does not flow off.',
      direction: 'for',
      code: 'drain_flows_when_tested',
      answer: 'no',
      // Behind a pump that stands with a full tank the best drain does not flow.
      weight: isObserved(facts, 'condensate_pump_runs_when_filled', 'no')
        ? 'indicative'
        : 'decisive',
    }),
    weighObservation(facts, {
      id: 'blockage_drawn_out',
      direction: 'for',
      code: 'drain_blockage_drawn_out',
      weight: 'decisive',
    }),
    weighObservation(untouched, {
      id: 'pan_dry',
      direction: 'against',
      code: 'drain_pan_dry',
      weight: 'decisive',
    }),
    weighObservation(untouched, {
      id: 'flows_freely',
      direction: 'against',
      code: 'drain_flows_when_tested',
      weight: 'decisive',
    }),
  ];
}

/** What was seen before the blockage came out: that the water runs off afterwards is its doing. */
const untilCleared = remembered((facts): Facts => {
  const cleared = observed(facts, 'drain_blockage_drawn_out');
  if (cleared?.answer !== 'yes') return facts;
  const first = facts.observations.find(({ id }) => cleared.ids.includes(id));
  const isBefore = ({ at }: { at: string }) =>
    first === undefined || Date.parse(at) < Date.parse(first.at);
  return { ...facts, observations: facts.observations.filter(isBefore) };
});
