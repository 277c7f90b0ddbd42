import type { Facts } from '../../facts/admit-evidence.ts';
import { breakerMarking } from '../../facts/breaker-marking.ts';
import { breakerDropVoltsMax } from '../../facts/closed-drop.ts';
import { compressorRunningAmps } from '../../facts/compressor-amps.ts';
import { type Measured, measuredAt, type Settled, show, showValue } from '../../facts/measured.ts';
import { observed } from '../../facts/observed.ts';
import { compareWithLimit } from '../../uncertainty/compare-with-limit.ts';
import type { Weighed } from '../../verdicts/verdict.ts';
import { type Decision, weighMeasurement } from '../../verdicts/weigh-measurement.ts';
import { weighObservation } from '../../verdicts/weigh-observation.ts';
import { fedKinds } from '../../words/kinds.ts';
import { cautions } from '../cautions.ts';
import { deadMachineScenes, everythingRuns } from '../expectations.ts';
import type { Fault } from '../fault.ts';
import { weighDrop } from './weigh-drop.ts';

/** What trips a breaker may always lie behind it: no sign for this fault is ever decisive. */
export const weakBreaker = {
  name: 'Weak breaker',
  explanation:
    'A breaker wears with age, heat and many trips. A worn one gets hot and switches off although the equipment behind it draws no more than it should. Replacing it is work in the electrical panel, for a licensed electrician.',
  partOfSystem: 'power',
  role: 'cause',
  kinds: fedKinds,
  dear: false,
  cautions: [cautions.panelWork, cautions.resetOnce, cautions.liveMeasurement],
  exclusions: [
    {
      statement:
        'The current of the machine was measured: a breaker that trips on too much current does its job.',
      doneWhen: [
        { point: 'compressor_common', quantity: 'current' },
        { point: 'blower_lead', quantity: 'current' },
      ],
    },
  ],
  remedies: [
    {
      task: 'advise_electrician',
      remedyClass: 'advise',
      needs: 'supported',
      partCategories: [],
    },
  ],
  rules: { criteria: weighWeakBreaker },
  settledBy: ['test_breaker_under_load', 'measure_compressor_amps'],
  perThousand: 8,
  expects: {
    breaker_hot_or_buzzing: 0.6,
    breaker_trips_again: 0.6,
    breaker_drop: { high: 0.9 },
  },
  scenes: [
    ...deadMachineScenes.map((scene) => ({
      ...scene,
      expects: {
        ...scene.expects,
        breaker_found_tripped: 0.97,
        disconnect_volts: { none: 0.97 },
        breaker_holds_under_load: 0.2,
      },
    })),
    {
      share: 0.2,
      expects: { ...everythingRuns, breaker_found_tripped: 0.1, breaker_holds_under_load: 0.4 },
    },
  ],
} as const satisfies Fault;

function weighWeakBreaker(facts: Facts): Weighed[] {
  const current = drawnCurrent(facts);
  return [
    weighDrop(
      facts,
      {
        id: 'drop_high',
        statement: 'The closed breaker drops more than 0.3 V under load.',
        direction: 'for',
        weight: 'indicative',
      },
      {
        point: 'breaker',
        label: 'Voltage across the closed breaker',
        metWhen: 'above',
        limit: breakerDropVoltsMax,
      },
    ),
    weighObservation(facts, {
      id: 'hot_or_buzzing',
      direction: 'for',
      code: 'breaker_hot_or_buzzing',
      weight: 'indicative',
    }),
    weighMeasurement(
      {
        id: 'trips_below_its_marking',
        statement: 'It trips again although less flows than it is marked for.',
        direction: 'for',
        weight: 'indicative',
      },
      current,
      (measured) => decideTrip(facts, measured, 'below'),
    ),
    weighMeasurement(
      {
        id: 'trips_above_its_marking',
        statement: 'It trips again because more flows than it is marked for.',
        direction: 'against',
        weight: 'indicative',
      },
      current,
      (measured) => decideTrip(facts, measured, 'above'),
    ),
    weighDrop(
      facts,
      {
        id: 'drop_low',
        statement: 'The closed breaker drops less than 0.3 V under load.',
        direction: 'against',
        weight: 'indicative',
      },
      {
        point: 'breaker',
        label: 'Voltage across the closed breaker',
        metWhen: 'below',
        limit: breakerDropVoltsMax,
      },
    ),
    weighObservation(facts, {
      id: 'holds_under_load',
      direction: 'against',
      code: 'breaker_holds_under_load',
      weight: 'indicative',
    }),
  ];
}

/** The compressor draws nearly all that an outdoor machine does; a furnace has only its blower. */
function drawnCurrent(facts: Facts): Settled {
  const { kind } = facts.equipment;
  const isIndoor = kind === 'air_handler' || kind === 'furnace';
  return isIndoor ? measuredAt(facts, 'blower_lead', 'current') : compressorRunningAmps(facts);
}

/** Without a trip on record there is nothing that the current could explain or fail to explain. */
function decideTrip(facts: Facts, current: Measured, metWhen: 'above' | 'below'): Decision {
  const tripIds = tripOnRecord(facts);
  if (tripIds.length === 0) {
    return { outcome: 'not_met', detail: `${show(current)}; no trip under load is on record.` };
  }
  if (compareWithLimit(current, 0) !== 'above') {
    const detail = `${show(current)}; nothing flows, measure it while everything runs.`;
    return { outcome: 'undecided', detail, observationIds: tripIds };
  }
  const marking = breakerMarking(facts);
  if (marking.kind !== 'settled') {
    const detail = `${show(current)}; record the rating marked on the breaker.`;
    return { outcome: 'undecided', detail, observationIds: tripIds };
  }
  const ratedAmps = marking.measured.value;
  const side = compareWithLimit(current, ratedAmps);
  return {
    outcome: side === 'within' ? 'undecided' : side === metWhen ? 'met' : 'not_met',
    detail: `${show(current)}; the breaker is marked ${ratedAmps} A; this method is good to ${showValue(current.uncertainty, 'A')}.`,
    readingIds: marking.measured.readingIds,
    observationIds: tripIds,
  };
}

/** The observations that say the breaker lets go under load. */
function tripOnRecord(facts: Facts): readonly string[] {
  const again = observed(facts, 'breaker_trips_again');
  const holds = observed(facts, 'breaker_holds_under_load');
  return [
    ...(again?.answer === 'yes' ? again.ids : []),
    ...(holds?.answer === 'no' ? holds.ids : []),
  ];
}
