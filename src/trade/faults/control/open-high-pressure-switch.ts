import { controlVoltsMin } from '../../electrical/control-volts.ts';
import type { Facts } from '../../facts/admit-evidence.ts';
import { measuredAt } from '../../facts/measured.ts';
import type { Weighed } from '../../verdicts/verdict.ts';
import { weighLimit } from '../../verdicts/weigh-limit.ts';
import { weighObservation } from '../../verdicts/weigh-observation.ts';
import { weighTogether } from '../../verdicts/weigh-together.ts';
import { contactorKinds } from '../../words/kinds.ts';
import { cautions } from '../cautions.ts';
import { withoutContactor } from '../contactor/without-contactor.ts';
import { nothingRunsOutdoors } from '../expectations.ts';
import type { Fault } from '../fault.ts';
import { whenFed } from './when-fed.ts';
import { whenHighPressureSwitchClosed } from './when-high-pressure-switch-closed.ts';

export const openHighPressureSwitch = {
  name: 'Open high-pressure switch',
  explanation:
    'A pressure switch stops the outdoor unit before the pressure inside becomes dangerous. It opens when the heat cannot get away: dirt on the outdoor coil, a fan that stands still, or too much refrigerant. Why the pressure rose is the question that counts.',
  partOfSystem: 'control',
  role: 'symptom',
  notTheCause:
    'An open high-pressure switch is not the cause: something raised the pressure, and pushing it back in mends nothing.',
  causeSearch: {
    lookFor:
      'Look for what raised the pressure: a dirty outdoor coil, an outdoor fan that stands still or turns too slowly, too much refrigerant. It is not simply pushed back in.',
    recordedBy: [{ observation: 'pressure_trip_cause_looked_for', answers: ['yes'] }],
  },
  kinds: contactorKinds,
  dear: false,
  cautions: [cautions.neverBypass, cautions.lockOut],
  exclusions: [],
  remedies: [
    {
      task: 'trace_pressure_trip',
      remedyClass: 'diagnose',
      needs: 'supported',
      partCategories: [],
    },
  ],
  rules: { unfit: withoutContactor, criteria: weighSwitch },
  settledBy: ['measure_high_pressure_switch'],
  perThousand: 4,
  expects: {
    ...nothingRunsOutdoors,
    high_pressure_switch_open: 0.97,
    high_pressure_switch_passes: { no: 0.97 },
    contactor_pulled_in: 0.03,
    contactor_coil_volts: { none: 0.95 },
    outdoor_call_volts: { fine: 0.96 },
    outdoor_board_volts: { none: 0.6 },
    contactor_by_hand_both_start: 0.95,
    thermostat_calling_cooling: 0.97,
    thermostat_starts_when_set: 0.03,
    thermostat_jumper_starts_cooling: 0.03,
  },
} as const satisfies Fault;

function weighSwitch(facts: Facts): Weighed[] {
  return [
    weighObservation(facts, {
      id: 'found_open',
      direction: 'for',
      code: 'high_pressure_switch_open',
      weight: 'decisive',
    }),
    weighLimit(
      {
        id: 'voltage_across_it',
        statement: 'The control voltage stands across the high-pressure switch.',
        direction: 'for',
        weight: 'decisive',
      },
      measuredAt(facts, 'high_pressure_switch', 'voltage'),
      {
        label: 'Voltage across the high-pressure switch',
        metWhen: 'above',
        limit: controlVoltsMin,
        because: 'an open one holds more than',
      },
    ),
    weighTogether(
      {
        id: 'found_closed',
        statement: 'With the call at the outdoor unit the high-pressure switch is closed.',
        direction: 'against',
        weight: 'decisive',
      },
      whenHighPressureSwitchClosed(facts),
      [whenFed(facts, 'outdoor_cooling_call')],
    ),
  ];
}
