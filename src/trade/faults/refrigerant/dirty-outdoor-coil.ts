import type { Facts } from '../../facts/admit-evidence.ts';
import { headState, subcoolingState, suctionState } from '../../facts/circuit-state.ts';
import { observed } from '../../facts/observed.ts';
import type { Weighed } from '../../verdicts/verdict.ts';
import { weighObservation } from '../../verdicts/weigh-observation.ts';
import { weighPattern } from '../../verdicts/weigh-pattern.ts';
import { type Condition, weighTogether } from '../../verdicts/weigh-together.ts';
import { whenMeasured } from '../../verdicts/when-measured.ts';
import { whenObserved } from '../../verdicts/when-observed.ts';
import { whenState } from '../../verdicts/when-state.ts';
import { outdoorKinds } from '../../words/kinds.ts';
import { cautions } from '../cautions.ts';
import { everythingRuns } from '../expectations.ts';
import type { Fault } from '../fault.ts';
import { whenCircuitReadable, whenCompressorPumps } from './when-circuit-readable.ts';

export const dirtyOutdoorCoil = {
  name: 'Dirty outdoor coil',
  explanation:
    'A coil outdoors gives the heat of the house to the outside air. When its fins are matted with dust, grass or fluff, too little air passes; the pressure rises, the system cools less, draws more electricity and can shut itself off on a hot day. Rinsing it restores the air.',
  partOfSystem: 'airflow',
  role: 'cause',
  kinds: outdoorKinds,
  dear: false,
  cautions: [
    cautions.lockOut,
    'Rinse with low pressure and along the fins; keep water off the electrical parts.',
  ],
  exclusions: [],
  remedies: [
    { task: 'clean_outdoor_coil', remedyClass: 'clean', needs: 'supported', partCategories: [] },
  ],
  rules: { criteria: weighOutdoorCoil },
  settledBy: ['look_at_outdoor_coil', 'read_gauges', 'clear_outdoor_coil_and_compare'],
  perThousand: 25,
  expects: {
    ...everythingRuns,
    outdoor_coil_dirty: 0.95,
    outdoor_coil_cleared_pressure_fell: 0.95,
    head: { high: 0.93, low: 0.005 },
    suction: { high: 0.6, low: 0.03 },
    superheat: { low: 0.4, high: 0.15 },
    subcooling: { low: 0.65, high: 0.03 },
    split: { low: 0.4, high: 0.02 },
    compressor_amps: { normal: 0.75, high: 0.23 },
    high_pressure_switch_open: 0.2,
    compressor_stops_on_overload: 0.15,
    charge: { fine: 0.92 },
  },
} as const satisfies Fault;

function weighOutdoorCoil(facts: Facts): Weighed[] {
  const head = headState(facts);
  return [
    weighTogether(
      {
        id: 'matted_and_head_high',
        statement: 'A photo shows the outdoor coil matted, and the head is high.',
        direction: 'for',
        weight: 'decisive',
      },
      whenMattedOnPhoto(facts),
      [whenState(head, ['high'], ['low', 'fine']), whenCompressorPumps(facts)],
    ),
    // Water cools a clean coil too, so the fall alone is only a hint.
    weighTogether(
      {
        id: 'pressure_fell_when_dirt_cleared',
        statement: 'The outdoor coil was seen dirty, and with it clear the head pressure fell.',
        direction: 'for',
        weight: 'decisive',
      },
      whenObserved(facts, 'outdoor_coil_cleared_pressure_fell'),
      [whenObserved(facts, 'outdoor_coil_dirty')],
    ),
    weighObservation(facts, {
      id: 'pressure_fell_when_cleared',
      direction: 'for',
      code: 'outdoor_coil_cleared_pressure_fell',
      weight: 'indicative',
    }),
    weighObservation(facts, {
      id: 'coil_dirty',
      direction: 'for',
      code: 'outdoor_coil_dirty',
      weight: 'indicative',
    }),
    headPattern(facts),
    weighObservation(facts, {
      id: 'pressure_did_not_fall',
      statement: 'With the outdoor coil cleared the head pressure stayed as it was.',
      direction: 'against',
      code: 'outdoor_coil_cleared_pressure_fell',
      answer: 'no',
      weight: 'decisive',
    }),
    weighObservation(facts, {
      id: 'coil_clean',
      statement: 'The outdoor coil is clean on all sides.',
      direction: 'against',
      code: 'outdoor_coil_dirty',
      answer: 'no',
      weight: 'indicative',
    }),
    weighPattern(
      {
        id: 'head_not_high',
        statement: 'The head is not high.',
        direction: 'against',
        weight: 'indicative',
      },
      {
        keys: [whenMeasured(head.settled, head.what, 'below', head.band?.highDegF)],
        others: [],
        agreeingMin: 1,
        provided: whenCircuitReadable(facts),
      },
    ),
  ];
}

/** A fan that stands still shows the same, so that it must have been seen to run. */
function headPattern(facts: Facts): Weighed {
  return weighPattern(
    {
      id: 'head_pattern',
      statement: 'High head and high suction at low subcooling while the outdoor fan runs.',
      direction: 'for',
      weight: 'indicative',
    },
    {
      keys: [
        whenState(headState(facts), ['high'], ['low', 'fine']),
        whenState(subcoolingState(facts), ['low'], ['high']),
        whenState(suctionState(facts), ['high'], ['low']),
      ],
      others: [],
      agreeingMin: 3,
      provided: [...whenCircuitReadable(facts), whenObserved(facts, 'outdoor_fan_running')],
    },
  );
}

function whenMattedOnPhoto(facts: Facts): Condition {
  const dirty = whenObserved(facts, 'outdoor_coil_dirty');
  const hasPhoto = observed(facts, 'outdoor_coil_dirty')?.hasPhoto === true;
  if (dirty.state !== 'holds' || hasPhoto) return dirty;
  return { ...dirty, state: 'unknown', says: 'Take a photo of the matted coil.' };
}
