import type { Facts } from '../../facts/admit-evidence.ts';
import { measuredAt, show } from '../../facts/measured.ts';
import { lineVoltsMin } from '../../facts/supply-volts.ts';
import { compareWithLimit } from '../../uncertainty/compare-with-limit.ts';
import type { Weighed } from '../../verdicts/verdict.ts';
import { weighMeasurement } from '../../verdicts/weigh-measurement.ts';
import { weighObservation } from '../../verdicts/weigh-observation.ts';
import { fedKinds } from '../../words/kinds.ts';
import { cautions } from '../cautions.ts';
import { deadMachineScenes } from '../expectations.ts';
import type { Fault } from '../fault.ts';

export const trippedBreaker = {
  name: 'Tripped breaker',
  explanation:
    'A breaker switches itself off when too much current flows, to protect the wires; the equipment behind it then has no power. A reset switches it on again. What made it trip is a separate question.',
  partOfSystem: 'power',
  role: 'symptom',
  notTheCause:
    'A tripped breaker is not the cause: usually something drew too much current, seldom the breaker itself is weak.',
  causeSearch: {
    lookFor:
      'Look for what drew the current: a short or ground fault when it trips at once; a locked or overloaded motor, a dirty coil or a weak breaker when it trips after a while.',
    recordedBy: [{ observation: 'breaker_trip_cause_looked_for', answers: ['yes'] }],
  },
  kinds: fedKinds,
  dear: false,
  cautions: [cautions.resetOnce, cautions.liveMeasurement],
  exclusions: [],
  remedies: [
    { task: 'reset_breaker', remedyClass: 'reset', needs: 'supported', partCategories: [] },
    {
      task: 'trace_breaker_trip',
      remedyClass: 'diagnose',
      needs: 'supported',
      partCategories: [],
    },
  ],
  rules: { criteria: weighBreaker },
  settledBy: ['look_at_breaker', 'test_breaker_under_load'],
  perThousand: 60,
  expects: {
    breaker_found_tripped: 0.98,
    disconnect_volts: { none: 0.97 },
    breaker_holds_under_load: 0.97,
    breaker_trips_again: 0.02,
  },
  scenes: deadMachineScenes,
} as const satisfies Fault;

function weighBreaker(facts: Facts): Weighed[] {
  return [
    weighObservation(facts, {
      id: 'found_tripped',
      direction: 'for',
      code: 'breaker_found_tripped',
      weight: 'decisive',
    }),
    weighObservation(facts, {
      id: 'trips_again',
      statement:
        'The breaker tripped again after a reset; it therefore stays off until the cause is mended.',
      direction: 'for',
      code: 'breaker_trips_again',
      weight: 'indicative',
    }),
    weighMeasurement(
      {
        id: 'line_voltage_missing',
        statement: 'There is no line voltage at the unit.',
        direction: 'for',
        weight: 'indicative',
      },
      measuredAt(facts, 'line_supply', 'voltage'),
      (measured) => {
        const { value, unit, uncertainty } = measured;
        const side = compareWithLimit(measured, lineVoltsMin);
        return {
          outcome: side === 'below' ? 'met' : side === 'above' ? 'not_met' : 'undecided',
          detail: `${show(measured)} at the unit.`,
          measurement: { label: 'Line voltage', value, unit, uncertainty, low: lineVoltsMin },
        };
      },
    ),
    weighObservation(facts, {
      id: 'found_on',
      statement: 'The breaker was found on.',
      direction: 'against',
      code: 'breaker_found_tripped',
      answer: 'no',
      weight: 'decisive',
    }),
  ];
}
