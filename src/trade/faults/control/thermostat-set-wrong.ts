import type { Facts } from '../../facts/admit-evidence.ts';
import type { Weighed } from '../../verdicts/verdict.ts';
import { weighObservation } from '../../verdicts/weigh-observation.ts';
import { weighTogether } from '../../verdicts/weigh-together.ts';
import { whenObserved } from '../../verdicts/when-observed.ts';
import { boardKinds } from '../../words/kinds.ts';
import { cautions } from '../cautions.ts';
import { noCallOutdoors } from '../expectations.ts';
import type { Fault } from '../fault.ts';

export const thermostatSetWrong = {
  name: 'Thermostat set wrong',
  explanation:
    'A thermostat asks for cooling only while it is switched to cool and set below the temperature of the room. Set otherwise it leaves sound equipment standing still. Setting it right costs nothing but the look.',
  partOfSystem: 'control',
  role: 'symptom',
  notTheCause:
    'A wrong setting is not the cause of any failure: nothing is broken as long as the cooling starts once it is set right.',
  causeSearch: {
    lookFor:
      'Set it to cool, 5 F below the room, and wait for the five minutes that many thermostats hold the compressor back: does the cooling start?',
    recordedBy: [{ observation: 'thermostat_starts_when_set', answers: ['yes', 'no'] }],
  },
  kinds: boardKinds,
  dear: false,
  cautions: [cautions.waitForDelay, cautions.gasFurnace],
  exclusions: [],
  remedies: [
    { task: 'set_thermostat', remedyClass: 'reset', needs: 'supported', partCategories: [] },
  ],
  rules: { criteria: weighSetting },
  settledBy: ['look_at_thermostat', 'set_thermostat_to_cool'],
  perThousand: 15,
  expects: {
    ...noCallOutdoors,
    thermostat_set_wrong: 0.98,
    thermostat_starts_when_set: 0.97,
    thermostat_calling_cooling: 0.03,
    thermostat_screen_blank: 0.01,
    thermostat_jumper_starts_cooling: 0.95,
    thermostat_supply_volts: { fine: 0.97 },
    thermostat_call_volts: { none: 0.96 },
    board_call_volts: { none: 0.96 },
    board_fan_call_volts: { none: 0.85 },
    indoor_fan_running: 0.15,
    blower_amps: { none: 0.85 },
    blower_volts: { none: 0.85 },
  },
} as const satisfies Fault;

function weighSetting(facts: Facts): Weighed[] {
  return [
    // Somebody may have switched it off because it did not cool: only the start settles it.
    weighTogether(
      {
        id: 'set_wrong_and_starts_when_set',
        statement: 'The thermostat was found set wrong, and set right the cooling starts.',
        direction: 'for',
        weight: 'decisive',
      },
      whenObserved(facts, 'thermostat_set_wrong'),
      [whenObserved(facts, 'thermostat_starts_when_set')],
    ),
    weighObservation(facts, {
      id: 'found_set_wrong',
      direction: 'for',
      code: 'thermostat_set_wrong',
      weight: 'indicative',
    }),
    weighObservation(facts, {
      id: 'found_set_right',
      statement: 'The thermostat was found on cool and set below the room.',
      direction: 'against',
      code: 'thermostat_set_wrong',
      answer: 'no',
      weight: 'decisive',
    }),
    weighObservation(facts, {
      id: 'does_not_start_when_set',
      statement: 'Set to cool below the room, the cooling does not start: something else keeps it.',
      direction: 'against',
      code: 'thermostat_starts_when_set',
      answer: 'no',
      weight: 'indicative',
    }),
  ];
}
