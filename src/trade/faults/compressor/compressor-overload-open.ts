import type { Facts } from '../../facts/admit-evidence.ts';
import type { Weighed } from '../../verdicts/verdict.ts';
import { weighObservation } from '../../verdicts/weigh-observation.ts';
import { type Condition, weighTogether } from '../../verdicts/weigh-together.ts';
import { whenObserved } from '../../verdicts/when-observed.ts';
import { contactorKinds } from '../../words/kinds.ts';
import { cautions } from '../cautions.ts';
import { everythingRuns } from '../expectations.ts';
import type { Fault } from '../fault.ts';
import { singlePhaseOnly } from './single-phase-only.ts';
import {
  hotShellDegFMin,
  wasCommonReadOpen,
  whenCommonClosed,
  whenReadAfterCooling,
  whenRunToStartClosed,
  whenRunToStartOpen,
  whenShell,
} from './winding-conditions.ts';

export const compressorOverloadOpen = {
  name: 'Compressor stopped by its own overload',
  explanation:
    'A switch inside the compressor stops it when it grows too hot or draws too much current, and closes again by itself once it has cooled, which can take hours. The switch protects the compressor; what overheats it is a separate question.',
  partOfSystem: 'compressor',
  role: 'symptom',
  notTheCause: 'The open overload is not the cause: something overheats the compressor.',
  causeSearch: {
    lookFor:
      'Look for what overheats it, and let it cool first: low voltage, a weak run capacitor, a dirty outdoor coil, an outdoor fan that stands, a low charge, a locked rotor.',
    recordedBy: [{ observation: 'overload_cause_looked_for', answers: ['yes'] }],
  },
  kinds: contactorKinds,
  dear: false,
  cautions: [
    cautions.lockOut,
    cautions.storedCharge,
    cautions.compressorTerminals,
    'The shell is hot enough to burn. The compressor may start by itself when it has cooled.',
  ],
  exclusions: [],
  remedies: [
    {
      task: 'trace_overload',
      remedyClass: 'diagnose',
      needs: 'supported',
      partCategories: [],
    },
  ],
  rules: { unfit: singlePhaseOnly, criteria: weighOverload },
  settledBy: ['measure_compressor_windings'],
  perThousand: 6,
  expects: {
    ...everythingRuns,
    compressor_running: 0.05,
    compressor_hums: 0.02,
    compressor_stops_on_overload: 0.8,
    compressor_amps: { none: 0.95 },
    compressor_common_reads_open: 0.95,
    compressor_run_to_start_reads_open: 0.01,
    contactor_by_hand_both_start: 0.05,
    compressor_starts_with_test_start_device: 0.03,
    split: { low: 0.97 },
  },
} as const satisfies Fault;

function weighOverload(facts: Facts): Weighed[] {
  return [
    weighTogether(
      {
        id: 'common_open_while_hot',
        statement:
          'The shell is hot, common reads open to both, and run to start is closed between them.',
        direction: 'for',
        weight: 'decisive',
      },
      whenObserved(facts, 'compressor_common_reads_open'),
      [whenRunToStartClosed(facts), whenShell(facts, 'above', hotShellDegFMin)],
    ),
    weighTogether(
      {
        id: 'closed_again_when_cool',
        statement: 'Common read open, and closed again after the compressor had cooled.',
        direction: 'for',
        weight: 'decisive',
      },
      whenClosedAgain(facts),
      [whenReadAfterCooling(facts)],
    ),
    weighTogether(
      {
        id: 'common_open',
        statement: 'Common reads open to both while run to start is closed.',
        direction: 'for',
        weight: 'indicative',
      },
      whenObserved(facts, 'compressor_common_reads_open'),
      [whenRunToStartClosed(facts)],
    ),
    weighObservation(facts, {
      id: 'stops_by_itself',
      direction: 'for',
      code: 'compressor_stops_on_overload',
      weight: 'indicative',
    }),
    weighTogether(
      {
        id: 'common_closed',
        statement: 'Common was never read open and leads to both windings.',
        direction: 'against',
        weight: 'decisive',
      },
      whenNeverOpen(facts),
      whenCommonClosed(facts),
    ),
    weighTogether(
      {
        id: 'run_to_start_open',
        statement: 'It reads open (OL) from run to start, which the overload cannot do.',
        direction: 'against',
        weight: 'decisive',
      },
      whenRunToStartOpen(facts),
      [],
    ),
    weighObservation(facts, {
      id: 'runs',
      direction: 'against',
      code: 'compressor_running',
      weight: 'indicative',
    }),
  ];
}

/** Open at one look and closed at the latest. */
function whenClosedAgain(facts: Facts): Condition {
  const closed = whenObserved(facts, 'compressor_common_reads_open', 'no');
  if (closed.state !== 'holds' || wasCommonReadOpen(facts)) return closed;
  return { ...closed, state: 'fails' };
}

function whenNeverOpen(facts: Facts): Condition {
  const [toRun] = whenCommonClosed(facts);
  const isRead = toRun !== undefined && toRun.readingIds.length > 0;
  const seen = whenObserved(facts, 'compressor_common_reads_open', 'no');
  if (wasCommonReadOpen(facts)) return { ...seen, state: 'fails' };
  return isRead ? toRun : seen;
}
