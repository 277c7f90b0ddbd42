import type { Nameplate } from '../../evidence.ts';
import type { Facts } from '../../facts/admit-evidence.ts';
import { blowerPlate } from '../../facts/blower-plate.ts';
import { measuredAt } from '../../facts/measured.ts';
import { type Minutes, measuredNear } from '../../facts/measured-near.ts';
import { observed } from '../../facts/observed.ts';
import { lineVoltsMin } from '../../facts/supply-volts.ts';
import type { Weighed } from '../../verdicts/verdict.ts';
import { weighObservation } from '../../verdicts/weigh-observation.ts';
import { type Condition, weighTogether } from '../../verdicts/weigh-together.ts';
import { whenMeasured } from '../../verdicts/when-measured.ts';
import { whenObserved } from '../../verdicts/when-observed.ts';
import { boardKinds } from '../../words/kinds.ts';
import { pointWords } from '../../words/points.ts';
import { cautions } from '../cautions.ts';
import { everythingRuns, noCallOutdoors } from '../expectations.ts';
import type { Fault } from '../fault.ts';
import { whenDelayOver } from './when-delay-over.ts';
import { whenFed } from './when-fed.ts';

export const failedIndoorBoard = {
  name: 'Failed indoor control board',
  explanation:
    'A control board inside the indoor unit takes the call of the thermostat and switches the indoor fan. When the board fails it has its power and its call, and nothing comes out: the fan stands still, and without its air the cooling freezes up or stops.',
  partOfSystem: 'control',
  role: 'cause',
  kinds: boardKinds,
  dear: true,
  cautions: [cautions.lockOut, cautions.liveMeasurement, cautions.waitForDelay],
  exclusions: [
    {
      statement: 'Its control power was measured.',
      doneWhen: [{ point: 'control_supply', quantity: 'voltage' }],
    },
    {
      statement: 'The call that reaches it was measured.',
      doneWhen: [{ point: 'board_fan_call', quantity: 'voltage' }],
    },
    {
      statement: 'The line voltage that it switches was measured.',
      doneWhen: [{ point: 'line_supply', quantity: 'voltage' }],
    },
    {
      statement: 'The board and its plugs were looked at: a loose plug looks like a dead board.',
      doneWhen: [{ observation: 'board_burnt', answers: ['yes', 'no'] }],
    },
  ],
  remedies: [
    {
      task: 'replace_indoor_board',
      remedyClass: 'replace',
      needs: 'proven',
      partCategories: ['indoor_board'],
    },
  ],
  rules: { criteria: weighBoard },
  settledBy: [
    'look_at_indoor_board',
    'measure_blower',
    'follow_cooling_call',
    'measure_control_supply',
    'pull_control_fuse',
    'measure_line_voltage',
  ],
  perThousand: 10,
  expects: {
    thermostat_calling_cooling: 0.98,
    control_volts: { fine: 0.98 },
    transformer_secondary_volts: { fine: 0.98 },
    thermostat_supply_volts: { fine: 0.97 },
    thermostat_call_volts: { fine: 0.97 },
    board_call_volts: { fine: 0.97 },
    board_fan_call_volts: { fine: 0.97 },
    board_burnt: 0.35,
    blower_wheel_turns_freely: 0.98,
    line_volts: { fine: 0.98 },
  },
  scenes: [
    {
      share: 0.5,
      expects: {
        ...everythingRuns,
        indoor_fan_running: 0.03,
        blower_amps: { none: 0.97 },
        blower_volts: { none: 0.96 },
        blower_called_and_fed: 0.04,
        blower_module_test_runs_motor: 0.95,
        ice_on_coil_or_line: 0.3,
        suction: { low: 0.75 },
        split: { low: 0.6 },
      },
    },
    { share: 0.2, expects: { ...noCallOutdoors, indoor_fan_running: 0.95 } },
    {
      share: 0.3,
      expects: {
        ...noCallOutdoors,
        indoor_fan_running: 0.03,
        blower_amps: { none: 0.97 },
        blower_volts: { none: 0.96 },
        blower_called_and_fed: 0.04,
        blower_module_test_runs_motor: 0.95,
      },
    },
  ],
} as const satisfies Fault;

function weighBoard(facts: Facts): Weighed[] {
  const blower = measuredAt(facts, 'blower_supply', 'voltage');
  const silent = whenMeasured(blower, pointWords.blower_supply.name, 'below', lineVoltsMin);
  const stands = whenObserved(facts, 'indoor_fan_running', 'no');
  const switched = whenSwitchedByBoard(facts.equipment.nameplate);
  // Nobody need have looked at the fan, but a board behind a fan that runs is not silent.
  const standing = stands.state === 'unknown' ? [] : [stands];
  return [
    weighTogether(
      {
        id: 'no_output',
        statement:
          'With power and call in, its delay over and its plugs looked at, no voltage leaves it.',
        direction: 'for',
        weight: 'decisive',
      },
      silent,
      [
        ...whenAllIn(facts, silent),
        switched,
        whenDelayOver(facts, silent),
        whenLookedAt(facts),
        ...standing,
      ],
    ),
    weighTogether(
      {
        id: 'motor_runs_without_it',
        statement:
          'With power and call in, its delay over and its plugs looked at, the fan stands still; a test signal in its place runs the motor.',
        direction: 'for',
        weight: 'decisive',
      },
      whenObserved(facts, 'blower_module_test_runs_motor'),
      [...whenAllIn(facts, stands), stands, whenDelayOver(facts, stands), whenLookedAt(facts)],
    ),
    weighTogether(
      {
        id: 'silent_though_called',
        statement: 'With its call in, no voltage leaves it for the blower.',
        direction: 'for',
        weight: 'indicative',
      },
      silent,
      [whenFed(facts, 'board_fan_call', silent), switched, ...standing],
    ),
    // A scorched spot may be old and a wet board may dry: how it looks never settles it.
    weighObservation(facts, {
      id: 'burnt_or_wet',
      direction: 'for',
      code: 'board_burnt',
      weight: 'indicative',
    }),
    weighTogether(
      {
        id: 'feeds_the_blower',
        statement: 'With its call in, it feeds the blower.',
        direction: 'against',
        weight: 'decisive',
      },
      whenMeasured(blower, pointWords.blower_supply.name, 'above', lineVoltsMin),
      [whenFed(facts, 'board_fan_call'), switched],
    ),
    // The call for the outdoor unit may fail to leave a board that still runs its fan.
    weighObservation(facts, {
      id: 'fan_runs',
      direction: 'against',
      code: 'indoor_fan_running',
      weight: 'indicative',
    }),
  ];
}

/** That power and call were in within the minutes in which nothing came out. */
function whenAllIn(facts: Facts, minutes: Minutes): Condition[] {
  return [
    whenFed(facts, 'control_supply', minutes),
    whenFed(facts, 'board_fan_call', minutes),
    whenMeasured(
      measuredNear(facts, 'line_supply', 'voltage', minutes),
      pointWords.line_supply.name,
      'above',
      lineVoltsMin,
    ),
  ];
}

/** An ECM has its line voltage all the time; its board sends it a signal instead. */
function whenSwitchedByBoard(nameplate: Nameplate): Condition {
  const { motor } = blowerPlate(nameplate);
  const base = { readingIds: [], observationIds: [], readingsDisagree: false };
  switch (motor) {
    case 'psc':
      return { ...base, state: 'holds', says: 'The board switches a PSC motor by its voltage.' };
    case 'ecm':
      return { ...base, state: 'fails', says: 'An ECM is not switched by its line voltage.' };
    case undefined:
      return {
        ...base,
        state: 'unknown',
        says: 'Record which motor the blower has: an ECM is not switched by its line voltage.',
      };
  }
}

/** Either answer says that board and plugs were looked at with the power off. */
function whenLookedAt(facts: Facts): Condition {
  const answer = observed(facts, 'board_burnt')?.answer ?? 'no';
  return whenObserved(facts, 'board_burnt', answer);
}
