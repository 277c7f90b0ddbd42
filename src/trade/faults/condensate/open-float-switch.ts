import { controlVoltsMin, deadVoltsMax } from '../../electrical/control-volts.ts';
import type { Facts } from '../../facts/admit-evidence.ts';
import { type Measured, measuredAt, type Settled, show } from '../../facts/measured.ts';
import { isObserved, observed } from '../../facts/observed.ts';
import { compareWithLimit } from '../../uncertainty/compare-with-limit.ts';
import type { Weighed } from '../../verdicts/verdict.ts';
import { type Decision, weighMeasurement } from '../../verdicts/weigh-measurement.ts';
import { weighObservation } from '../../verdicts/weigh-observation.ts';
import { cautions } from '../cautions.ts';
import { openFloatScenes } from '../expectations.ts';
import type { Fault } from '../fault.ts';
import { drainedKinds } from './drained-kinds.ts';

export const openFloatSwitch = {
  name: 'Open float switch',
  explanation:
    'A float switch stops the cooling when water stands in the drain pan, so that the pan does not overflow. It closes again once the water has run off. What opened it is a separate question.',
  partOfSystem: 'condensate',
  role: 'symptom',
  notTheCause:
    'An open float switch is not the cause: usually water stands in the pan, seldom the switch itself sticks.',
  causeSearch: {
    lookFor:
      'Look into the pan. Where water stands in it, look for why: the drain, its trap and slope, the pump. Where it is dry, try the switch and its wires.',
    recordedBy: [
      { observation: 'float_trip_cause_looked_for', answers: ['yes'] },
      { observation: 'drain_flows_when_tested', answers: ['yes', 'no'] },
      { observation: 'drain_blockage_drawn_out', answers: ['yes'] },
    ],
  },
  kinds: drainedKinds,
  dear: false,
  cautions: [cautions.neverBypass, cautions.lowVoltage],
  exclusions: [],
  remedies: [
    { task: 'reset_float_switch', remedyClass: 'reset', needs: 'supported', partCategories: [] },
  ],
  rules: { criteria: weighFloatSwitch },
  settledBy: ['measure_float_switch', 'look_at_drain_pan'],
  perThousand: 15,
  expects: {
    float_switch_raised: 0.9,
    float_switch_passes: { no: 0.97 },
    drain_pan_full: 0.2,
    drain_flows_when_tested: 0.95,
    drain_blockage_drawn_out: 0.02,
  },
  scenes: openFloatScenes,
} as const satisfies Fault;

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
