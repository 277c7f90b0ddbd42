import type { Facts } from '../facts/admit-evidence.ts';
import { type Measured, measuredAt, type Settled, show } from '../facts/measured.ts';
import { isObserved, observed } from '../facts/observed.ts';
import { compareWithLimit } from '../verdicts/compare-with-limit.ts';
import type { Weighed } from '../verdicts/verdict.ts';
import { type Decision, weighMeasurement } from '../verdicts/weigh-measurement.ts';
import { weighObservation } from '../verdicts/weigh-observation.ts';
import { cautions } from './cautions.ts';
import { controlVoltsMin, deadVoltsMax } from './control-volts.ts';
import type { Fault } from './fault.ts';

const kinds = ['air_handler', 'evaporator_coil', 'furnace', 'package_unit', 'mini_split'] as const;

export const condensateFaults = {
  plugged_drain: {
    name: 'Plugged condensate drain',
    explanation:
      'Cooling draws water out of the air, and that water leaves through a drain pipe. Slime and dirt can plug the pipe; the water then stays in the pan until it overflows or a safety switch stops the cooling. Clearing the pipe lets the water run off again.',
    partOfSystem: 'condensate',
    role: 'cause',
    kinds,
    dear: false,
    cautions: [
      'Clear the drain by suction at its outdoor end, never by pressure: pressure can burst a joint indoors.',
      'Keep water off the electrical parts; switch off before reaching into the pan.',
    ],
    exclusions: [],
    remedies: [
      {
        task: 'clear_condensate_drain',
        remedyClass: 'clean',
        needs: 'supported',
        partCategories: [],
      },
    ],
    rules: { criteria: weighDrain },
  },
  open_float_switch: {
    name: 'Open float switch',
    explanation:
      'A float switch stops the cooling when water stands in the drain pan, so that the pan does not overflow. It closes again once the water has run off. Why water stands in the pan is a separate question.',
    partOfSystem: 'condensate',
    role: 'symptom',
    notTheCause: 'An open float switch is not the cause: water stood in the pan.',
    causeSearch: {
      lookFor: 'Look for why water stands in the pan: the drain, its trap and slope, the pump.',
      recordedBy: [
        { observation: 'float_trip_cause_looked_for', answers: ['yes'] },
        { observation: 'drain_flows_when_tested', answers: ['yes', 'no'] },
        { observation: 'drain_blockage_drawn_out', answers: ['yes'] },
      ],
    },
    kinds,
    dear: false,
    cautions: [cautions.neverBypass, cautions.lowVoltage],
    exclusions: [],
    remedies: [
      { task: 'reset_float_switch', remedyClass: 'reset', needs: 'supported', partCategories: [] },
    ],
    rules: { criteria: weighFloatSwitch },
  },
} as const satisfies Record<string, Fault>;

function weighDrain(facts: Facts): Weighed[] {
  return [
    weighObservation(facts, {
      id: 'pan_full',
      direction: 'for',
      code: 'drain_pan_full',
      weight: 'indicative',
    }),
    weighObservation(facts, {
      id: 'does_not_flow',
      statement: 'Water poured into the drain does not flow off.',
      direction: 'for',
      code: 'drain_flows_when_tested',
      answer: 'no',
      weight: 'decisive',
    }),
    weighObservation(facts, {
      id: 'blockage_drawn_out',
      direction: 'for',
      code: 'drain_blockage_drawn_out',
      weight: 'decisive',
    }),
    weighObservation(facts, {
      id: 'pan_dry',
      direction: 'against',
      code: 'drain_pan_dry',
      weight: 'decisive',
    }),
    weighObservation(facts, {
      id: 'flows_freely',
      direction: 'against',
      code: 'drain_flows_when_tested',
      weight: 'decisive',
    }),
  ];
}

function weighFloatSwitch(facts: Facts): Weighed[] {
  const before = measuredAt(facts, 'float_switch_in', 'voltage');
  const after = measuredAt(facts, 'float_switch_out', 'voltage');
  return [
    weighMeasurement(
      {
        id: 'no_voltage_after_it',
        statement: 'With the thermostat calling, 24 V reaches the switch and nothing leaves it.',
        direction: 'for',
        weight: 'decisive',
      },
      after,
      (measured) => decideOpen(facts, before, measured),
    ),
    weighObservation(facts, {
      id: 'float_raised',
      direction: 'for',
      code: 'float_switch_raised',
      weight: 'indicative',
    }),
    weighMeasurement(
      {
        id: 'passes_voltage',
        statement: 'The switch passes its 24 V on.',
        direction: 'against',
        weight: 'decisive',
      },
      after,
      (measured) => decidePassing(before, measured),
    ),
  ];
}

/** Without a call and without voltage before it, 0 V after the switch says nothing about it. */
function decideOpen(facts: Facts, before: Settled, after: Measured): Decision {
  const fed = feedOf(before);
  const shown = decision(before, after);
  if (fed === 'dead')
    return {
      ...shown,
      outcome: 'not_met',
      detail: `${shown.detail} None before it either: look upstream.`,
    };
  if (compareWithLimit(after, controlVoltsMin) === 'above') return { ...shown, outcome: 'not_met' };
  const calling = observed(facts, 'thermostat_calling_cooling');
  if (fed === 'unknown' || !isObserved(facts, 'thermostat_calling_cooling')) {
    return {
      ...shown,
      detail: `${shown.detail} Record the voltage before it and that the thermostat calls.`,
    };
  }
  const isDead = compareWithLimit(after, deadVoltsMax) === 'below';
  return { ...shown, outcome: isDead ? 'met' : 'undecided', observationIds: calling?.ids ?? [] };
}

function decidePassing(before: Settled, after: Measured): Decision {
  const shown = decision(before, after);
  const fed = feedOf(before);
  if (compareWithLimit(after, controlVoltsMin) === 'above') return { ...shown, outcome: 'met' };
  if (fed !== 'fed') return { ...shown, outcome: fed === 'dead' ? 'not_met' : 'undecided' };
  const isDead = compareWithLimit(after, deadVoltsMax) === 'below';
  return { ...shown, outcome: isDead ? 'not_met' : 'undecided' };
}

function feedOf(before: Settled): 'fed' | 'dead' | 'unknown' {
  if (before.kind !== 'settled') return 'unknown';
  if (compareWithLimit(before.measured, controlVoltsMin) === 'above') return 'fed';
  return compareWithLimit(before.measured, deadVoltsMax) === 'below' ? 'dead' : 'unknown';
}

function decision(before: Settled, after: Measured): Decision {
  const { value, unit, uncertainty } = after;
  return {
    outcome: 'undecided',
    readingIds: before.kind === 'settled' ? before.measured.readingIds : [],
    detail: `${show(after)} after the switch.`,
    measurement: {
      label: 'Voltage after the float switch',
      value,
      unit,
      uncertainty,
      low: controlVoltsMin,
    },
  };
}
