import { controlVoltsMin } from '../../electrical/control-volts.ts';
import type { Facts } from '../../facts/admit-evidence.ts';
import { measuredAt } from '../../facts/measured.ts';
import { latestInstant } from '../../facts/measured-near.ts';
import type { Weighed } from '../../verdicts/verdict.ts';
import { weighLimit } from '../../verdicts/weigh-limit.ts';
import { weighObservation } from '../../verdicts/weigh-observation.ts';
import { type Condition, weighTogether } from '../../verdicts/weigh-together.ts';
import { boardKinds } from '../../words/kinds.ts';
import { cautions } from '../cautions.ts';
import { noCallOutdoors } from '../expectations.ts';
import type { Fault } from '../fault.ts';
import { whenDead, whenFed } from './when-fed.ts';

export const brokenControlWire = {
  name: 'Broken control wire',
  explanation:
    'A thin wire carries the call for cooling from the thermostat to the indoor unit and on to the outdoor unit. Where it is cut, corroded or come loose the call does not arrive, and the outdoor unit stands still though nothing in it is worn.',
  partOfSystem: 'control',
  role: 'cause',
  kinds: boardKinds,
  dear: false,
  cautions: [cautions.lowVoltage, cautions.neverBypass, cautions.gasFurnace],
  exclusions: [
    {
      statement: 'The float switch between the two was looked at: an open one cuts the same call.',
      doneWhen: [
        { point: 'float_switch_out', quantity: 'voltage' },
        { observation: 'float_switch_raised', answers: ['no'] },
      ],
    },
  ],
  remedies: [
    {
      task: 'repair_control_wiring',
      remedyClass: 'repair',
      needs: 'supported',
      partCategories: [],
    },
  ],
  rules: { criteria: weighWire },
  settledBy: ['follow_cooling_call', 'measure_control_cable', 'measure_float_switch'],
  perThousand: 12,
  expects: {
    ...noCallOutdoors,
    thermostat_calling_cooling: 0.95,
    thermostat_starts_when_set: 0.02,
    thermostat_jumper_starts_cooling: 0.03,
    thermostat_call_volts: { fine: 0.96 },
    board_call_volts: { fine: 0.85 },
    float_switch_passes: { yes: 0.98 },
    control_wire_damaged: 0.6,
    control_cable_ohms: { short: 0.02 },
  },
} as const satisfies Fault;

function weighWire(facts: Facts): Weighed[] {
  const lostOutdoors = whenDead(facts, 'outdoor_cooling_call');
  const lostAtBoard = whenDead(facts, 'board_cooling_call');
  const atBoard = whenFed(facts, 'board_cooling_call', lostOutdoors);
  return [
    weighTogether(
      {
        id: 'lost_on_the_way_out',
        statement:
          'The call is at the indoor board and not at the outdoor unit, and the float switch passes it.',
        direction: 'for',
        weight: 'decisive',
      },
      lostOutdoors,
      [
        atBoard,
        whenFed(facts, 'float_switch_out', lostOutdoors),
        whenCalledThen(facts, lostOutdoors),
      ],
    ),
    weighTogether(
      {
        id: 'lost_before_the_board',
        statement:
          'The call leaves the thermostat and does not reach the indoor board, and the float switch passes it.',
        direction: 'for',
        weight: 'decisive',
      },
      lostAtBoard,
      [
        whenFed(facts, 'thermostat_cooling_out', lostAtBoard),
        whenFed(facts, 'float_switch_out', lostAtBoard),
        whenCalledThen(facts, lostAtBoard),
      ],
    ),
    weighTogether(
      {
        id: 'not_arriving',
        statement: 'The call is at the indoor board and not at the outdoor unit.',
        direction: 'for',
        weight: 'indicative',
      },
      lostOutdoors,
      [atBoard],
    ),
    weighObservation(facts, {
      id: 'wire_damaged',
      direction: 'for',
      code: 'control_wire_damaged',
      weight: 'indicative',
    }),
    weighLimit(
      {
        id: 'arrives',
        statement: 'The cooling call arrives at the outdoor unit.',
        direction: 'against',
        weight: 'decisive',
      },
      measuredAt(facts, 'outdoor_cooling_call', 'voltage'),
      {
        label: 'Cooling call at the outdoor unit',
        metWhen: 'above',
        limit: controlVoltsMin,
        because: 'a call has at least',
      },
    ),
    ...weighFloatOpen(facts),
  ];
}

/** Before the call came the wire is dead by right; whether it called was mostly never asked. */
function whenCalledThen(facts: Facts, lost: Condition): Condition {
  const lostAt = Date.parse(latestInstant(facts, lost) ?? '');
  const look = facts.observations.findLast(
    ({ code, at }) => code === 'thermostat_calling_cooling' && Date.parse(at) <= lostAt,
  );
  const isCalling = look?.answer !== 'no';
  return {
    state: isCalling ? 'holds' : 'unknown',
    says: isCalling ? 'No look denies the call.' : 'It did not call then: measure again.',
    readingIds: [],
    observationIds: look === undefined ? [] : [look.id],
    readingsDisagree: false,
  };
}

/** An open float switch alone explains the missing call. */
function weighFloatOpen(facts: Facts): Weighed[] {
  return [
    weighTogether(
      {
        id: 'float_switch_open',
        statement: 'The float switch is open, which cuts the same call.',
        direction: 'against',
        weight: 'indicative',
      },
      whenDead(facts, 'float_switch_out'),
      [whenFed(facts, 'float_switch_in')],
    ),
  ];
}
