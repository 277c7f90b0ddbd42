import { controlVoltsMin } from '../../electrical/control-volts.ts';
import type { Facts } from '../../facts/admit-evidence.ts';
import { measuredAt } from '../../facts/measured.ts';
import { seenSince } from '../../verdicts/last-interruption.ts';
import type { Weighed } from '../../verdicts/verdict.ts';
import { weighLimit } from '../../verdicts/weigh-limit.ts';
import { weighObservation } from '../../verdicts/weigh-observation.ts';
import { type Condition, weighTogether } from '../../verdicts/weigh-together.ts';
import { whenMeasured } from '../../verdicts/when-measured.ts';
import { whenObserved } from '../../verdicts/when-observed.ts';
import { pointWords } from '../../words/points.ts';
import { cautions } from '../cautions.ts';
import { withoutContactor } from '../contactor/without-contactor.ts';
import { nothingRunsOutdoors } from '../expectations.ts';
import type { Fault } from '../fault.ts';
import { whenDead, whenFed } from './when-fed.ts';
import { whenHighPressureSwitchClosed } from './when-high-pressure-switch-closed.ts';

/**
 * Above this no low-pressure switch of a home unit stays open: they close again by some 95 psi and
 * open far lower. From memory of the switches of R-22 and R-410A units.
 */
const lowPressureSwitchClosesPsig = 100;

export const failedOutdoorBoard = {
  name: 'Failed outdoor control board',
  explanation:
    'A control board inside some outdoor units takes the call for cooling and passes it on to the switch of the motors. When the board fails the call goes in and nothing comes out, and the outdoor unit stands still.',
  partOfSystem: 'control',
  role: 'cause',
  kinds: ['condensing_unit', 'heat_pump'],
  dear: true,
  cautions: [cautions.lockOut, cautions.neverBypass, cautions.waitForDelay],
  exclusions: [
    {
      statement: 'The call that reaches the outdoor unit was measured.',
      doneWhen: [{ point: 'outdoor_cooling_call', quantity: 'voltage' }],
    },
    {
      statement: 'The high-pressure switch was looked at.',
      doneWhen: [
        { point: 'high_pressure_switch', quantity: 'voltage' },
        { point: 'high_pressure_switch', quantity: 'resistance' },
        { observation: 'high_pressure_switch_open', answers: ['no'] },
      ],
    },
    {
      statement: 'The standing pressure was measured: too little opens a low-pressure switch.',
      doneWhen: [{ point: 'suction_port', quantity: 'gauge_pressure' }],
    },
    {
      statement: 'The delay of thermostat and board was waited out.',
      doneWhen: [{ observation: 'thermostat_starts_when_set', answers: ['no'] }],
    },
  ],
  remedies: [
    {
      task: 'replace_outdoor_board',
      remedyClass: 'replace',
      needs: 'proven',
      partCategories: ['outdoor_board'],
    },
  ],
  rules: { unfit: withoutContactor, criteria: weighBoard },
  settledBy: [
    'follow_cooling_call',
    'measure_high_pressure_switch',
    'set_thermostat_to_cool',
    'read_gauges',
  ],
  perThousand: 6,
  expects: {
    ...nothingRunsOutdoors,
    contactor_pulled_in: 0.03,
    contactor_coil_volts: { none: 0.95 },
    outdoor_call_volts: { fine: 0.97 },
    outdoor_board_volts: { none: 0.97 },
    high_pressure_switch_open: 0.01,
    high_pressure_switch_passes: { yes: 0.98 },
    contactor_by_hand_both_start: 0.96,
    thermostat_calling_cooling: 0.97,
    thermostat_starts_when_set: 0.03,
    thermostat_jumper_starts_cooling: 0.03,
  },
} as const satisfies Fault;

function weighBoard(facts: Facts): Weighed[] {
  const silent = whenDead(facts, 'outdoor_board_out');
  const called = whenFed(facts, 'outdoor_cooling_call', silent);
  const highPressureClosed = whenHighPressureSwitchClosed(facts);
  const open = whenObserved(facts, 'contactor_pulled_in', 'no');
  // Nobody need have looked at the contactor, but what pulls it in has an output.
  const contactorOpen = open.state === 'unknown' ? [] : [open];
  return [
    // A board also waits out its delay, and stands still while a low-pressure switch is open.
    weighTogether(
      {
        id: 'no_output',
        statement:
          'The call is in, the pressure switches are closed, its delay is over, and nothing leaves it.',
        direction: 'for',
        weight: 'decisive',
      },
      silent,
      [
        called,
        highPressureClosed,
        whenLowPressureSwitchClosed(facts),
        seenSince(facts, 'thermostat_starts_when_set', 'no', [silent]),
        ...contactorOpen,
      ],
    ),
    weighTogether(
      {
        id: 'silent_though_called',
        statement: 'The call is in, the high-pressure switch is closed, and nothing leaves it.',
        direction: 'for',
        weight: 'indicative',
      },
      silent,
      [called, highPressureClosed, ...contactorOpen],
    ),
    weighLimit(
      {
        id: 'feeds_the_contactor',
        statement: 'The board passes the call on to the contactor.',
        direction: 'against',
        weight: 'decisive',
      },
      measuredAt(facts, 'outdoor_board_out', 'voltage'),
      {
        label: 'Output of the outdoor board',
        metWhen: 'above',
        limit: controlVoltsMin,
        because: 'a call has at least',
      },
    ),
    pullsInOnCall(facts),
    weighObservation(facts, {
      id: 'contactor_pulled_in',
      direction: 'against',
      code: 'contactor_pulled_in',
      weight: 'indicative',
    }),
  ];
}

/** Its contactor took a call that came through the board, unless its contacts are stuck. */
function pullsInOnCall(facts: Facts): Weighed {
  const pulledIn = whenObserved(facts, 'contactor_pulled_in');
  const loose = whenObserved(facts, 'contactor_stays_closed_without_call', 'no');
  return weighTogether(
    {
      id: 'pulls_in_on_call',
      statement: 'With its call in, the contactor behind it is pulled in.',
      direction: 'against',
      weight: 'decisive',
    },
    pulledIn,
    [
      whenFed(facts, 'outdoor_cooling_call', pulledIn),
      ...(loose.state === 'unknown' ? [] : [loose]),
    ],
  );
}

function whenLowPressureSwitchClosed(facts: Facts): Condition {
  return whenMeasured(
    measuredAt(facts, 'suction_port', 'gauge_pressure'),
    `standing pressure, ${pointWords.suction_port.name}`,
    'above',
    lowPressureSwitchClosesPsig,
  );
}
