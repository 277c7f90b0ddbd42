import type { Facts } from '../../facts/admit-evidence.ts';
import type { Weighed } from '../../verdicts/verdict.ts';
import { weighObservation } from '../../verdicts/weigh-observation.ts';
import { fedKinds } from '../../words/kinds.ts';
import { cautions } from '../cautions.ts';
import { deadMachineScenes } from '../expectations.ts';
import type { Fault } from '../fault.ts';
import { weighPassage } from './weigh-passage.ts';

export const openDisconnect = {
  name: 'Open disconnect',
  explanation:
    'A disconnect is the switch near the equipment that takes the power off it for safe work. When it is off or pulled out, nothing behind it can run. Putting it back on restores the power. Why it is off is a separate question.',
  partOfSystem: 'power',
  role: 'symptom',
  notTheCause: 'An open disconnect is not the cause: somebody switched it off or it does not hold.',
  causeSearch: {
    lookFor:
      'Ask who switched it off and why: work left unfinished, a noise, a smell. Look at its blades and seat for heat, and at the unit for what somebody wanted to stop.',
    recordedBy: [{ observation: 'disconnect_cause_looked_for', answers: ['yes'] }],
  },
  kinds: fedKinds,
  dear: false,
  cautions: [
    'Before putting it back on: nobody works on the machine and no lock or tag hangs on it.',
    cautions.liveMeasurement,
  ],
  exclusions: [],
  remedies: [
    { task: 'restore_disconnect', remedyClass: 'reset', needs: 'supported', partCategories: [] },
  ],
  rules: { criteria: weighDisconnect },
  settledBy: ['look_at_disconnect'],
  perThousand: 10,
  expects: {
    disconnect_found_open: 0.98,
    disconnect_volts: { fine: 0.98 },
  },
  scenes: deadMachineScenes,
} as const satisfies Fault;

function weighDisconnect(facts: Facts): Weighed[] {
  return [
    weighObservation(facts, {
      id: 'found_open',
      direction: 'for',
      code: 'disconnect_found_open',
      weight: 'decisive',
    }),
    weighPassage(facts),
    weighObservation(facts, {
      id: 'found_on',
      statement: 'The disconnect was found on and seated.',
      direction: 'against',
      code: 'disconnect_found_open',
      answer: 'no',
      weight: 'decisive',
    }),
  ];
}
