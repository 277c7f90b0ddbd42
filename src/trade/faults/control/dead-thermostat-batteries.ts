import { controlVoltsMin } from '../../electrical/control-volts.ts';
import type { Facts } from '../../facts/admit-evidence.ts';
import { measuredAt } from '../../facts/measured.ts';
import { anyOf } from '../../verdicts/any-of.ts';
import type { Weighed } from '../../verdicts/verdict.ts';
import { weighLimit } from '../../verdicts/weigh-limit.ts';
import { weighObservation } from '../../verdicts/weigh-observation.ts';
import { weighTogether } from '../../verdicts/weigh-together.ts';
import { whenMeasured } from '../../verdicts/when-measured.ts';
import { whenObserved } from '../../verdicts/when-observed.ts';
import { boardKinds } from '../../words/kinds.ts';
import { cautions } from '../cautions.ts';
import { noCallOutdoors } from '../expectations.ts';
import type { Fault } from '../fault.ts';
import { thermostatBatteryVolts } from './thermostat-battery.ts';
import { whenDead } from './when-fed.ts';

export const deadThermostatBatteries = {
  name: 'Dead batteries of the thermostat',
  explanation:
    'A thermostat that runs on batteries goes dark when they are empty and can then no longer ask for cooling. Fresh batteries bring it back; batteries run down with time and nothing is worn out by it.',
  partOfSystem: 'control',
  role: 'symptom',
  notTheCause:
    'Empty batteries alone are not the cause of any failure: the cooling must be seen to start with fresh ones.',
  causeSearch: {
    lookFor:
      'With fresh batteries set it to cool, 5 F below the room, and wait: does the cooling start? Where a common wire is meant to feed the thermostat, look for why it does not.',
    recordedBy: [{ observation: 'thermostat_starts_when_set', answers: ['yes', 'no'] }],
  },
  kinds: boardKinds,
  dear: false,
  cautions: [cautions.waitForDelay, cautions.gasFurnace],
  exclusions: [],
  remedies: [
    {
      task: 'replace_thermostat_batteries',
      remedyClass: 'reset',
      needs: 'supported',
      partCategories: ['thermostat_batteries'],
    },
  ],
  rules: { criteria: weighBatteries },
  settledBy: ['look_at_thermostat', 'measure_thermostat_wires'],
  perThousand: 12,
  expects: {
    ...noCallOutdoors,
    thermostat_battery_volts: { low: 0.97 },
    thermostat_screen_blank: 0.75,
    thermostat_low_battery_shown: 0.5,
    thermostat_calling_cooling: 0.1,
    thermostat_jumper_starts_cooling: 0.96,
    thermostat_call_volts: { none: 0.96 },
    board_call_volts: { none: 0.96 },
    board_fan_call_volts: { none: 0.93 },
    indoor_fan_running: 0.06,
    blower_amps: { none: 0.93 },
    blower_volts: { none: 0.93 },
  },
} as const satisfies Fault;

function weighBatteries(facts: Facts): Weighed[] {
  const volts = measuredAt(facts, 'thermostat_battery', 'voltage');
  const { flatBelow, freshAbove } = thermostatBatteryVolts;
  return [
    // Where a common wire feeds the thermostat, flat batteries keep nothing from running.
    weighTogether(
      {
        id: 'flat_and_no_call',
        statement: 'The batteries are flat, and the thermostat is dark or gives no call.',
        direction: 'for',
        weight: 'decisive',
      },
      whenMeasured(volts, 'batteries of the thermostat', 'below', flatBelow),
      [
        anyOf('Record whether its screen is blank, or measure its cooling call.', [
          whenObserved(facts, 'thermostat_screen_blank'),
          whenDead(facts, 'thermostat_cooling_out'),
        ]),
      ],
    ),
    weighLimit(
      {
        id: 'flat',
        statement: 'The batteries of the thermostat are flat.',
        direction: 'for',
        weight: 'indicative',
      },
      volts,
      {
        label: 'Batteries of the thermostat',
        metWhen: 'below',
        limit: flatBelow,
        because: 'they are flat below',
      },
    ),
    weighObservation(facts, {
      id: 'low_battery_shown',
      direction: 'for',
      code: 'thermostat_low_battery_shown',
      weight: 'indicative',
    }),
    weighLimit(
      {
        id: 'gives_its_call',
        statement: 'The thermostat gives its cooling call.',
        direction: 'against',
        weight: 'decisive',
      },
      measuredAt(facts, 'thermostat_cooling_out', 'voltage'),
      {
        label: 'Cooling call at the thermostat',
        metWhen: 'above',
        limit: controlVoltsMin,
        because: 'a call has at least',
      },
    ),
    weighLimit(
      {
        id: 'fresh',
        statement: 'The batteries of the thermostat are fresh enough.',
        direction: 'against',
        weight: 'indicative',
      },
      volts,
      {
        label: 'Batteries of the thermostat',
        metWhen: 'above',
        limit: freshAbove,
        because: 'two of them are fresh enough above',
      },
    ),
  ];
}
