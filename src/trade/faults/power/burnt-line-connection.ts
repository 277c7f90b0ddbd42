import type { Facts } from '../../facts/admit-evidence.ts';
import { connectionDropVolts } from '../../facts/closed-drop.ts';
import { measuredAt } from '../../facts/measured.ts';
import { latestInstant, measuredNear } from '../../facts/measured-near.ts';
import { lineVoltsMin } from '../../facts/supply-volts.ts';
import { machineLoad } from '../../facts/under-load.ts';
import type { Weighed } from '../../verdicts/verdict.ts';
import { weighObservation } from '../../verdicts/weigh-observation.ts';
import { type Condition, weighTogether } from '../../verdicts/weigh-together.ts';
import { whenMeasured } from '../../verdicts/when-measured.ts';
import { whenObserved } from '../../verdicts/when-observed.ts';
import { fedKinds } from '../../words/kinds.ts';
import { cautions } from '../cautions.ts';
import { deadMachineScenes, starvedOutdoors } from '../expectations.ts';
import type { Fault } from '../fault.ts';
import { weighDrop } from './weigh-drop.ts';

const connection = {
  point: 'line_connection',
  label: 'Voltage across a line connection',
} as const;

export const burntLineConnection = {
  name: 'Loose or burnt line connection',
  explanation:
    'A wire that sits loose on its screw gets hot under current, and the heat loosens it further until it burns. The equipment then gets too little voltage or none. Cut back to sound copper and fastened anew, the connection carries its current again.',
  partOfSystem: 'power',
  role: 'cause',
  kinds: fedKinds,
  dear: false,
  cautions: [cautions.lockOut, cautions.storedCharge, cautions.panelWork],
  exclusions: [],
  remedies: [
    {
      task: 'remake_line_connection',
      remedyClass: 'repair',
      needs: 'supported',
      partCategories: [],
    },
    { task: 'advise_electrician', remedyClass: 'advise', needs: 'supported', partCategories: [] },
  ],
  rules: { criteria: weighConnection },
  settledBy: [
    'look_at_line_connections',
    'measure_line_connections',
    'measure_line_voltage',
    'measure_disconnect',
    'look_at_disconnect',
    'test_disconnect_fuses',
  ],
  perThousand: 10,
  expects: {
    line_connection_burnt: 0.96,
    connection_drop: { high: 0.95 },
    disconnect_volts: { none: 0.08, low: 0.05 },
    breaker_found_tripped: 0.1,
    breaker_hot_or_buzzing: 0.08,
  },
  scenes: [
    ...deadMachineScenes,
    {
      share: 0.8,
      on: 'outdoor',
      expects: { ...starvedOutdoors, line_volts: { low: 0.5, fine: 0.48 } },
    },
  ],
} as const satisfies Fault;

function weighConnection(facts: Facts): Weighed[] {
  const atUnit = whenMeasured(
    measuredAt(facts, 'line_supply', 'voltage'),
    'line voltage at the unit',
    'below',
    lineVoltsMin,
  );
  return [
    // A discolored wire may carry its current for years: only what it no longer passes proves it.
    weighTogether(
      {
        id: 'burnt_and_passes_nothing',
        statement:
          'A connection is burnt, and between the closed disconnect with its sound fuses and the unit the line voltage is lost.',
        direction: 'for',
        weight: 'decisive',
      },
      whenObserved(facts, 'line_connection_burnt'),
      [
        atUnit,
        whenMeasured(
          measuredNear(facts, 'disconnect_line_side', 'voltage', atUnit),
          'line voltage before the disconnect',
          'above',
          lineVoltsMin,
        ),
        whenObserved(facts, 'disconnect_found_open', 'no'),
        whenObserved(facts, 'disconnect_fuse_reads_open', 'no'),
        whenNothingRan(facts, atUnit),
      ],
    ),
    weighObservation(facts, {
      id: 'seen_burnt',
      direction: 'for',
      code: 'line_connection_burnt',
      weight: 'indicative',
    }),
    weighDrop(
      facts,
      {
        id: 'drop_high',
        statement: 'A line connection drops more than 1 V under load.',
        direction: 'for',
        weight: 'decisive',
      },
      { ...connection, metWhen: 'above', limit: connectionDropVolts.burnt },
    ),
    weighDrop(
      facts,
      {
        id: 'drop_raised',
        statement: 'A line connection drops more than 0.5 V under load.',
        direction: 'for',
        weight: 'indicative',
      },
      { ...connection, metWhen: 'above', limit: connectionDropVolts.raised },
    ),
    weighDrop(
      facts,
      {
        id: 'drop_low',
        statement: 'The line connection measured drops less than 0.5 V under load.',
        direction: 'against',
        weight: 'indicative',
      },
      { ...connection, metWhen: 'below', limit: connectionDropVolts.raised },
    ),
    weighObservation(facts, {
      id: 'looks_sound',
      statement: 'Every line connection was looked at and none is burnt.',
      direction: 'against',
      code: 'line_connection_burnt',
      answer: 'no',
      weight: 'indicative',
    }),
  ];
}

/** Locked out for work, a unit is as dead as behind a burnt wire: what ran since was fed. */
function whenNothingRan(facts: Facts, dead: Condition): Condition {
  const load = machineLoad(facts);
  const diedAt = latestInstant(facts, dead);
  const ranAt = load && latestInstant(facts, load);
  const hasRun =
    diedAt !== undefined && ranAt !== undefined && Date.parse(ranAt) >= Date.parse(diedAt);
  const { readingIds = [], observationIds = [] } = (hasRun ? load : undefined) ?? {};
  return {
    state: hasRun ? 'fails' : 'holds',
    says: hasRun ? 'The machine has run since.' : 'No run since is on record.',
    readingIds,
    observationIds,
    readingsDisagree: false,
  };
}
