import type { Facts } from '../../facts/admit-evidence.ts';
import { subcoolingState, superheatState } from '../../facts/circuit-state.ts';
import { superheatOf } from '../../facts/refrigerant-state.ts';
import type { Weighed } from '../../verdicts/verdict.ts';
import { weighObservation } from '../../verdicts/weigh-observation.ts';
import { weighPattern } from '../../verdicts/weigh-pattern.ts';
import { whenMeasured } from '../../verdicts/when-measured.ts';
import { whenState } from '../../verdicts/when-state.ts';
import { cautions } from '../cautions.ts';
import { everythingRuns } from '../expectations.ts';
import type { Fault } from '../fault.ts';
import { outdoorKinds } from '../kinds.ts';
import { whenCircuitReadable, whenCompressorPumps } from './when-circuit-readable.ts';

export const wrongRefrigerant = {
  name: 'Wrong refrigerant',
  explanation:
    'A cooling system is built for the one refrigerant that its nameplate names. Another one, or a mixture, has other pressures: the system cools poorly, its oil may no longer reach the compressor, and some kinds can burn. All of it is taken out, the system is emptied of air, and the right one filled in by weight.',
  partOfSystem: 'refrigerant',
  role: 'cause',
  kinds: outdoorKinds,
  dear: false,
  cautions: [
    cautions.refrigerantPressure,
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
    suction: { low: 0.3, high: 0.4 },
    head: { low: 0.25, high: 0.6 },
    superheat: { low: 0.45, high: 0.35 },
    subcooling: { low: 0.35, high: 0.5 },
    split: { low: 0.8 },
    compressor_amps: { normal: 0.8, high: 0.17 },
  },
} as const satisfies Fault;

function weighWrongRefrigerant(facts: Facts): Weighed[] {
  return [
    weighObservation(facts, {
      id: 'marked',
      direction: 'for',
      code: 'wrong_refrigerant_marked',
      weight: 'photoDecides',
    }),
    weighPattern(
      {
        id: 'impossible_superheat',
        statement:
          'The suction line is colder than the refrigerant of the nameplate could be at its pressure.',
        direction: 'for',
        weight: 'indicative',
      },
      {
        keys: [whenMeasured(superheatOf(facts), 'superheat', 'below', 0)],
        others: [],
        agreeingMin: 1,
        provided: [whenCompressorPumps(facts)],
      },
    ),
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
