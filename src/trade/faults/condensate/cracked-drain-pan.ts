import type { Facts } from '../../facts/admit-evidence.ts';
import type { Weighed } from '../../verdicts/verdict.ts';
import { weighObservation } from '../../verdicts/weigh-observation.ts';
import { cautions } from '../cautions.ts';
import type { Fault } from '../fault.ts';
import { drainedKinds } from './drained-kinds.ts';

export const crackedDrainPan = {
  name: 'Cracked drain pan',
  explanation:
    'A pan under the cooling coil catches the water that cooling draws out of the air. When it cracks or rusts through, the water drips beside the drain: onto the ceiling below, or into a second pan whose safety switch then stops the cooling.',
  partOfSystem: 'condensate',
  role: 'cause',
  kinds: drainedKinds,
  dear: false,
  cautions: [
    cautions.lockOut,
    'Keep water off the electrical parts; mop it up before anything is switched on.',
  ],
  exclusions: [],
  remedies: [
    {
      task: 'replace_drain_pan',
      remedyClass: 'replace',
      // The word alone sells no pan: a photo proves it and costs nothing.
      needs: 'proven',
      partCategories: ['drain_pan'],
    },
  ],
  rules: { criteria: weighPan },
  settledBy: ['look_at_drain_pan'],
  perThousand: 3,
  expects: {
    drain_pan_cracked: 0.96,
    drain_pan_full: 0.1,
    drain_pan_dry: 0.6,
    drain_flows_when_tested: 0.97,
    drain_blockage_drawn_out: 0.02,
    float_switch_raised: 0.5,
    float_switch_passes: { no: 0.5 },
    outdoor_fan_running: 0.48,
    compressor_running: 0.48,
    contactor_pulled_in: 0.48,
    contactor_coil_volts: { none: 0.5 },
    outdoor_call_volts: { none: 0.5 },
  },
} as const satisfies Fault;

function weighPan(facts: Facts): Weighed[] {
  return [
    weighObservation(facts, {
      id: 'cracked',
      direction: 'for',
      code: 'drain_pan_cracked',
      weight: 'photoDecides',
    }),
    // A hairline crack is easily overlooked, so a look alone does not exclude it.
    weighObservation(facts, {
      id: 'looks_whole',
      statement: 'The drain pan was looked at and is neither cracked nor rusted through.',
      direction: 'against',
      code: 'drain_pan_cracked',
      answer: 'no',
      weight: 'indicative',
    }),
  ];
}
