import type { Facts } from '../../facts/admit-evidence.ts';
import { subcoolingState, superheatState } from '../../facts/circuit-state.ts';
import type { Weighed } from '../../verdicts/verdict.ts';
import { weighObservation } from '../../verdicts/weigh-observation.ts';
import { weighPattern } from '../../verdicts/weigh-pattern.ts';
import type { Condition } from '../../verdicts/weigh-together.ts';
import { whenState } from '../../verdicts/when-state.ts';
import { outdoorKinds } from '../../words/kinds.ts';
import { chargeCautions } from '../cautions.ts';
import { everythingRuns } from '../expectations.ts';
import type { Fault } from '../fault.ts';
import { whenCircuitReadable, whenCompressorPumps } from './when-circuit-readable.ts';
import { impossibleFigures } from './when-possible.ts';

export const wrongRefrigerant = {
  name: 'Wrong refrigerant',
  explanation:
    'A cooling system is built for the one refrigerant that its nameplate names. Another one, or a mixture, has other pressures: the system cools poorly, its oil may no longer reach the compressor, and some kinds can burn. All of it is taken out, the system is emptied of air, and the right one filled in by weight.',
  partOfSystem: 'refrigerant',
  role: 'cause',
  kinds: outdoorKinds,
  dear: false,
  cautions: [
    ...chargeCautions,
    'A mixture goes into a recovery cylinder of its own, marked as mixed; never into a clean one.',
  ],
  exclusions: [],
  remedies: [
    {
      task: 'renew_charge',
      remedyClass: 'adjust',
      needs: 'proven',
      partCategories: ['refrigerant'],
    },
  ],
  rules: { criteria: weighWrongRefrigerant },
  settledBy: ['weigh_charge'],
  perThousand: 1,
  expects: {
    ...everythingRuns,
    wrong_refrigerant_marked: 0.6,
    refrigerant_identified_as_other: 0.96,
    suction: { low: 0.3, high: 0.4 },
    head: { low: 0.25, high: 0.6 },
    superheat: { low: 0.45, high: 0.35 },
    subcooling: { low: 0.35, high: 0.5 },
    split: { low: 0.8 },
    compressor_amps: { normal: 0.8, high: 0.17 },
  },
} as const satisfies Fault;

/** A label may tell of a lawful retrofit, and gauges and clamps err: only an identifier settles it. */
function weighWrongRefrigerant(facts: Facts): Weighed[] {
  const [superheat, subcooling] = impossibleFigures(facts);
  return [
    weighObservation(facts, {
      id: 'marked',
      direction: 'for',
      code: 'wrong_refrigerant_marked',
      weight: 'indicative',
    }),
    weighObservation(facts, {
      id: 'identified',
      direction: 'for',
      code: 'refrigerant_identified_as_other',
      weight: 'decisive',
    }),
    impossible(facts, superheat, {
      id: 'impossible_superheat',
      statement:
        'The suction line is colder than the refrigerant of the nameplate could be at its pressure.',
    }),
    impossible(facts, subcooling, {
      id: 'impossible_subcooling',
      statement:
        'The liquid line is warmer than the refrigerant of the nameplate could be at its pressure.',
    }),
    weighObservation(facts, {
      id: 'identified_as_right',
      statement: 'An identifier shows the refrigerant that plate or retrofit label names.',
      direction: 'against',
      code: 'refrigerant_identified_as_other',
      answer: 'no',
      weight: 'decisive',
    }),
    weighPattern(
      {
        id: 'states_usual',
        statement: 'Superheat and subcooling are usual for the refrigerant of the nameplate.',
        direction: 'against',
        weight: 'indicative',
      },
      {
        keys: [
          whenState(superheatState(facts), ['fine'], ['low', 'high']),
          whenState(subcoolingState(facts), ['fine'], ['low', 'high']),
        ],
        others: [],
        agreeingMin: 2,
        provided: whenCircuitReadable(facts),
      },
    ),
  ];
}

function impossible(
  facts: Facts,
  figure: Condition,
  sign: { id: string; statement: string },
): Weighed {
  return weighPattern(
    { ...sign, direction: 'for', weight: 'indicative' },
    { keys: [figure], others: [], agreeingMin: 1, provided: [whenCompressorPumps(facts)] },
  );
}
