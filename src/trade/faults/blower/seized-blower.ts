import type { Facts } from '../../facts/admit-evidence.ts';
import { blowerPlate } from '../../facts/blower-plate.ts';
import type { Weighed } from '../../verdicts/verdict.ts';
import { weighObservation } from '../../verdicts/weigh-observation.ts';
import { weighTogether } from '../../verdicts/weigh-together.ts';
import { whenObserved } from '../../verdicts/when-observed.ts';
import { blowerKinds } from '../../words/kinds.ts';
import { cautions } from '../cautions.ts';
import { everythingRuns } from '../expectations.ts';
import type { Fault } from '../fault.ts';

export const seizedBlower = {
  name: 'Seized blower',
  explanation:
    'A blower moves the air of the house through the cooling coil. When its bearings seize, the wheel can no longer turn: the motor only hums, no air comes out of the registers, and the coil can ice over.',
  partOfSystem: 'blower',
  role: 'cause',
  kinds: blowerKinds,
  dear: true,
  cautions: [cautions.lockOut, cautions.storedCharge],
  exclusions: [
    {
      statement:
        'Nothing blocks the wheel: one that is only blocked turns again once it is cleared.',
      doneWhen: [{ observation: 'blower_wheel_blocked', answers: ['no'] }],
    },
  ],
  remedies: [
    {
      task: 'replace_blower_motor',
      remedyClass: 'replace',
      needs: 'proven',
      partCategories: ['blower_motor'],
    },
  ],
  rules: { criteria: weighSeizure },
  settledBy: ['spin_blower'],
  perThousand: 4,
  expects: {
    ...everythingRuns,
    indoor_fan_running: 0.02,
    blower_hums: 0.6,
    blower_wheel_turns_freely: 0.02,
    blower_wheel_blocked: 0.1,
    blower_called_and_fed: 0.97,
    blower_amps: { none: 0.3, high: 0.65 },
    blower_volts: { fine: 0.97 },
    capacitor_blower: { fine: 0.92 },
    blower_module_test_runs_motor: 0.03,
    ice_on_coil_or_line: 0.4,
    suction: { low: 0.9 },
  },
} as const satisfies Fault;

function weighSeizure(facts: Facts): Weighed[] {
  // An ECM is notchy by its magnets, and stiff when its module is shorted, with sound bearings.
  const isPsc = blowerPlate(facts.equipment.nameplate).motor === 'psc';
  return [
    ...(isPsc ? [seized(facts)] : []),
    weighObservation(facts, {
      id: 'does_not_turn',
      statement: 'With the power off the blower wheel does not turn freely by hand.',
      direction: 'for',
      code: 'blower_wheel_turns_freely',
      answer: 'no',
      weight: 'indicative',
    }),
    weighObservation(facts, {
      id: 'turns_freely',
      direction: 'against',
      code: 'blower_wheel_turns_freely',
      weight: 'decisive',
    }),
    weighObservation(facts, {
      id: 'runs',
      direction: 'against',
      code: 'indoor_fan_running',
      weight: 'decisive',
    }),
    weighObservation(facts, {
      id: 'wheel_blocked',
      direction: 'against',
      code: 'blower_wheel_blocked',
      weight: 'indicative',
    }),
  ];
}

/** What fell into the wheel or a wheel that slipped on its shaft stops sound bearings, too. */
function seized(facts: Facts): Weighed {
  return weighTogether(
    {
      id: 'seized',
      statement: 'The blower wheel does not turn freely by hand and nothing blocks it.',
      direction: 'for',
      weight: 'decisive',
    },
    whenObserved(facts, 'blower_wheel_turns_freely', 'no'),
    [whenObserved(facts, 'blower_wheel_blocked', 'no')],
  );
}
