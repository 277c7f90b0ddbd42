import type { Facts } from '../../facts/admit-evidence.ts';
import {
  headState,
  splitState,
  subcoolingState,
  suctionState,
  superheatState,
} from '../../facts/circuit-state.ts';
import { filterDrierDropDegFMax, filterDrierDropOf } from '../../facts/filter-drier-drop.ts';
import type { Weighed } from '../../verdicts/verdict.ts';
import { type Provided, weighLimit } from '../../verdicts/weigh-limit.ts';
import { weighPattern } from '../../verdicts/weigh-pattern.ts';
import type { Condition } from '../../verdicts/weigh-together.ts';
import { whenState } from '../../verdicts/when-state.ts';
import { outdoorKinds } from '../../words/kinds.ts';
import { openCircuitCautions } from '../cautions.ts';
import { everythingRuns } from '../expectations.ts';
import type { Fault } from '../fault.ts';
import { whenAirflowNotBad } from './when-airflow.ts';
import { whenCircuitReadable } from './when-circuit-readable.ts';
import { whenSubcoolingNotLow } from './when-subcooling-not-low.ts';

export const liquidLineRestriction = {
  name: 'Restricted liquid line or filter drier',
  explanation:
    'A filter in the refrigerant line between the outdoor and the indoor unit keeps dirt and moisture back. When it clogs, or the line is kinked, too little refrigerant reaches the indoor coil, and the house is cooled less though the system holds enough of it.',
  partOfSystem: 'refrigerant',
  role: 'cause',
  kinds: outdoorKinds,
  dear: false,
  cautions: openCircuitCautions,
  exclusions: [
    {
      statement: 'The subcooling was measured: it keeps a restriction apart from a low charge.',
      doneWhen: [{ point: 'liquid_port', quantity: 'gauge_pressure' }],
    },
  ],
  remedies: [
    {
      task: 'replace_filter_drier',
      remedyClass: 'replace',
      needs: 'proven',
      partCategories: ['filter_drier', 'refrigerant'],
    },
  ],
  rules: { criteria: weighRestriction },
  settledBy: ['measure_filter_drier'],
  perThousand: 4,
  expects: {
    ...everythingRuns,
    suction: { low: 0.85, high: 0.01 },
    head: { low: 0.3, high: 0.2 },
    superheat: { high: 0.9, low: 0.01 },
    subcooling: { low: 0.01, fine: 0.45 },
    split: { low: 0.9, high: 0.01 },
    compressor_amps: { normal: 0.97 },
    filter_drier_drop: { high: 0.9 },
    charge: { fine: 0.9 },
    ice_on_coil_or_line: 0.25,
  },
} as const satisfies Fault;

function weighRestriction(facts: Facts): Weighed[] {
  return [
    drierDrop(facts),
    weighPattern(
      {
        id: 'restriction_pattern',
        statement:
          'Subcooling normal or high together with at least two of: high superheat, low suction, low air split.',
        direction: 'for',
        weight: 'indicative',
      },
      {
        keys: [whenSubcoolingNotLow(facts)],
        others: [
          whenState(superheatState(facts), ['high'], ['low']),
          whenState(suctionState(facts), ['low'], ['high']),
          whenState(splitState(facts), ['low'], ['high']),
        ],
        agreeingMin: 3,
        provided: [...whenCircuitReadable(facts), whenAirflowNotBad(facts)],
      },
    ),
    weighLimit(
      {
        id: 'drier_clear',
        statement: 'The liquid line is as warm after the filter drier as before it.',
        direction: 'against',
        weight: 'indicative',
      },
      filterDrierDropOf(facts),
      { ...drierRule, metWhen: 'below' },
    ),
    weighPattern(
      {
        id: 'subcooling_low',
        statement: 'The subcooling is low: what is held back would stand before a restriction.',
        direction: 'against',
        weight: 'indicative',
      },
      {
        keys: [whenState(subcoolingState(facts), ['low'], ['fine', 'high'])],
        others: [whenState(headState(facts), ['low'], ['high'])],
        agreeingMin: 1,
        provided: whenCircuitReadable(facts),
      },
    ),
  ];
}

const drierRule = {
  label: 'Drop across the filter drier',
  limit: filterDrierDropDegFMax,
  because: 'a sound filter drier takes no more than',
} as const;

/**
 * A low charge sends bubbles along with the liquid, which cool as they boil on their way through a
 * sound drier: only behind liquid enough does a drop tell of a restriction.
 */
function drierDrop(facts: Facts): Weighed {
  return weighLimit(
    {
      id: 'drier_drop',
      statement: 'The liquid line is more than 3 F colder after the filter drier than before it.',
      direction: 'for',
      weight: 'decisive',
    },
    filterDrierDropOf(facts),
    {
      ...drierRule,
      metWhen: 'above',
      provided: [...whenCircuitReadable(facts), whenSubcoolingNotLow(facts)].map(asProvided),
    },
  );
}

function asProvided({ state, says, readingIds, observationIds }: Condition): Provided {
  return {
    holds: state === 'holds',
    otherwise: says.replace(/\.$/, ''),
    readingIds,
    observationIds,
  };
}
