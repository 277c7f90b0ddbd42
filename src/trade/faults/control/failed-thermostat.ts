import { controlVoltsMin } from '../../electrical/control-volts.ts';
import type { Facts } from '../../facts/admit-evidence.ts';
import { floatSwitchPasses } from '../../facts/float-switch-passes.ts';
import { measuredAt } from '../../facts/measured.ts';
import { latestInstant } from '../../facts/measured-near.ts';
import { anyOf } from '../../verdicts/any-of.ts';
import type { Weighed } from '../../verdicts/verdict.ts';
import { weighLimit } from '../../verdicts/weigh-limit.ts';
import { weighObservation } from '../../verdicts/weigh-observation.ts';
import { type Condition, weighTogether } from '../../verdicts/weigh-together.ts';
import { whenMeasured } from '../../verdicts/when-measured.ts';
import { whenObserved } from '../../verdicts/when-observed.ts';
import { boardKinds } from '../../words/kinds.ts';
import { cautions } from '../cautions.ts';
import { noCallOutdoors } from '../expectations.ts';
import type { Fault } from '../fault.ts';
import { thermostatBatteryVolts } from './thermostat-battery.ts';
import { whenDead, whenFed } from './when-fed.ts';

export const failedThermostat = {
  name: 'Failed thermostat',
  explanation:
    'A thermostat asks the equipment for cooling by joining two of its wires. When its inside fails it no longer joins them, though it is set right and has its power; the equipment then waits for a call that never comes.',
  partOfSystem: 'control',
  role: 'cause',
  kinds: boardKinds,
  dear: false,
  cautions: [cautions.lowVoltage, cautions.waitForDelay, cautions.gasFurnace],
  exclusions: [
    {
      statement: 'The batteries of the thermostat were looked at.',
      doneWhen: [
        { point: 'thermostat_battery', quantity: 'voltage' },
        { observation: 'thermostat_low_battery_shown', answers: ['yes', 'no'] },
      ],
    },
    {
      statement: 'The thermostat was set to cool below the room and its delay waited out.',
      doneWhen: [{ observation: 'thermostat_starts_when_set', answers: ['no'] }],
    },
  ],
  remedies: [
    {
      task: 'replace_thermostat',
      remedyClass: 'replace',
      needs: 'supported',
      partCategories: ['thermostat'],
    },
  ],
  rules: { criteria: weighThermostat },
  settledBy: ['measure_thermostat_wires', 'set_thermostat_to_cool', 'look_at_thermostat'],
  perThousand: 10,
  expects: {
    ...noCallOutdoors,
    thermostat_screen_blank: 0.35,
    thermostat_set_wrong: 0.02,
    thermostat_starts_when_set: 0.03,
    thermostat_calling_cooling: 0.5,
    thermostat_jumper_starts_cooling: 0.96,
    thermostat_battery_volts: { fine: 0.96 },
    thermostat_supply_volts: { fine: 0.96 },
    thermostat_call_volts: { none: 0.95 },
    board_call_volts: { none: 0.95 },
    board_fan_call_volts: { none: 0.7 },
    indoor_fan_running: 0.3,
    blower_amps: { none: 0.7 },
    blower_volts: { none: 0.7 },
  },
} as const satisfies Fault;

function weighThermostat(facts: Facts): Weighed[] {
  const supply = whenFed(facts, 'thermostat_supply');
  const noCall = whenDead(facts, 'thermostat_cooling_out');
  const jumperStarts = whenObserved(facts, 'thermostat_jumper_starts_cooling');
  const waitedInVain = whenObserved(facts, 'thermostat_starts_when_set', 'no');
  return [
    // A thermostat that holds the compressor back for some minutes shows the same until it is waited.
    weighTogether(
      {
        id: 'no_call_and_jumper_starts',
        statement:
          'Fed, set right and waited for, it gives no call; with R joined to Y the cooling starts.',
        direction: 'for',
        weight: 'decisive',
      },
      noCall,
      [
        whenFed(facts, 'thermostat_supply', noCall),
        waitedInVain,
        whenSetRight(facts, noCall, waitedInVain),
        jumperStarts,
        whenBatteriesAreGood(facts),
        ...whenFloatOpen(facts),
      ],
    ),
    weighTogether(
      {
        id: 'no_call_though_fed',
        statement: 'It has its 24 V, is set to cool and gives no call.',
        direction: 'for',
        weight: 'indicative',
      },
      noCall,
      [supply, whenAsked(facts)],
    ),
    weighTogether(
      {
        id: 'jumper_starts',
        statement: 'It is set to cool; with R joined to Y at its base the cooling starts.',
        direction: 'for',
        weight: 'indicative',
      },
      jumperStarts,
      [whenAsked(facts)],
    ),
    weighTogether(
      {
        id: 'dark_though_fed',
        statement: 'Its screen is blank though it has its 24 V and its batteries are good.',
        direction: 'for',
        weight: 'indicative',
      },
      whenObserved(facts, 'thermostat_screen_blank'),
      [supply, whenBatteriesAreGood(facts)],
    ),
    ...weighAgainst(facts),
  ];
}

function weighAgainst(facts: Facts): Weighed[] {
  return [
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
    weighObservation(facts, {
      id: 'starts_when_set',
      direction: 'against',
      code: 'thermostat_starts_when_set',
      weight: 'decisive',
    }),
    weighObservation(facts, {
      id: 'jumper_starts_nothing',
      statement: 'With R joined to Y at its base nothing starts: look behind the thermostat.',
      direction: 'against',
      code: 'thermostat_jumper_starts_cooling',
      answer: 'no',
      weight: 'indicative',
    }),
    weighTogether(
      {
        id: 'batteries_flat',
        statement: 'Its batteries are low: fresh ones come first.',
        direction: 'against',
        weight: 'indicative',
      },
      anyOf('Look at the batteries.', [
        whenMeasured(
          measuredAt(facts, 'thermostat_battery', 'voltage'),
          'batteries of the thermostat',
          'below',
          thermostatBatteryVolts.flatBelow,
        ),
        whenObserved(facts, 'thermostat_low_battery_shown'),
      ]),
      [],
    ),
  ];
}

/** Set wrong it rightly gives no call: then only what was measured after it was set counts. */
function whenSetRight(facts: Facts, noCall: Condition, waited: Condition): Condition {
  const found = whenObserved(facts, 'thermostat_set_wrong', 'no');
  if (found.state !== 'fails') return { ...found, state: 'holds', says: 'Not found set wrong.' };
  const [deadAt = '', setAt = ''] = [noCall, waited].map((each) => latestInstant(facts, each));
  const isAfter = Date.parse(deadAt) >= Date.parse(setAt);
  return isAfter
    ? { ...found, state: 'holds', says: 'Measured after it was set right.' }
    : { ...found, state: 'unknown', says: 'Measure its call again now that it is set right.' };
}

/** An open float switch keeps the cooling from starting, whatever the thermostat does. */
function whenFloatOpen(facts: Facts): Condition[] {
  const raised = whenObserved(facts, 'float_switch_raised');
  const open = [
    ...(floatSwitchPasses(facts) === 'no' ? [whenDead(facts, 'float_switch_out')] : []),
    ...(raised.state === 'holds' ? [raised] : []),
  ];
  return open.map((each): Condition => ({ ...each, state: 'fails' }));
}

function whenAsked(facts: Facts): Condition {
  return anyOf('Set it to cool below the room, wait, and record whether the cooling starts.', [
    whenObserved(facts, 'thermostat_starts_when_set', 'no'),
    whenObserved(facts, 'thermostat_calling_cooling'),
  ]);
}

/** A measurement outranks what the screen shows: a weak battery may not be reported yet. */
function whenBatteriesAreGood(facts: Facts): Condition {
  const measured = whenMeasured(
    measuredAt(facts, 'thermostat_battery', 'voltage'),
    'batteries of the thermostat',
    'above',
    thermostatBatteryVolts.freshAbove,
  );
  if (measured.readingIds.length > 0) return measured;
  return anyOf('Look whether its batteries are low.', [
    whenObserved(facts, 'thermostat_low_battery_shown', 'no'),
  ]);
}
