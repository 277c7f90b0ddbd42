import { filterDropInH2O } from '../../air/pressure-drops.ts';
import type { Facts } from '../../facts/admit-evidence.ts';
import { pressureAcross } from '../../facts/duct-pressure.ts';
import type { Weighed } from '../../verdicts/verdict.ts';
import { weighLimit } from '../../verdicts/weigh-limit.ts';
import { weighObservation } from '../../verdicts/weigh-observation.ts';
import { weighTogether } from '../../verdicts/weigh-together.ts';
import { whenMeasured } from '../../verdicts/when-measured.ts';
import { whenObserved } from '../../verdicts/when-observed.ts';
import { blowerKinds } from '../../words/kinds.ts';
import { cautions } from '../cautions.ts';
import type { Fault } from '../fault.ts';
import { tooLittleAir } from './too-little-air.ts';

/** The verdict is about the filter; whether the filter is behind the complaint is another matter. */
export const dirtyFilter = {
  name: 'Dirty filter',
  explanation:
    'All the air of the house passes the filter. When dirt fills it, less air passes: rooms at the end of the ducts stay warm and the coil indoors can freeze. A new filter of the same size is upkeep, due every few months, and alone seldom brings back cooling that has stopped.',
  partOfSystem: 'airflow',
  role: 'cause',
  kinds: blowerKinds,
  dear: false,
  cautions: [
    cautions.lockOut,
    'Never run the blower without a filter: the dirt then sits on the coil.',
  ],
  exclusions: [],
  remedies: [
    {
      task: 'replace_filter',
      remedyClass: 'replace',
      needs: 'supported',
      partCategories: ['filter'],
    },
  ],
  rules: { criteria: weighFilter },
  settledBy: ['look_at_filter', 'measure_static_pressure'],
  perThousand: 25,
  expects: {
    ...tooLittleAir,
    filter_dirty: 0.98,
    filter_drop: { high: 0.92 },
    external_static: { high: 0.75 },
    indoor_coil_drop: { high: 0.03 },
    ice_on_coil_or_line: 0.3,
  },
} as const satisfies Fault;

function weighFilter(facts: Facts): Weighed[] {
  const drop = pressureAcross(facts, 'filter_drop');
  const label = 'Pressure across the filter';
  return [
    weighObservation(facts, {
      id: 'seen_dirty',
      direction: 'for',
      code: 'filter_dirty',
      weight: 'indicative',
    }),
    weighLimit(
      {
        id: 'takes_too_much',
        statement: 'The filter takes half of what most blowers can give.',
        direction: 'for',
        weight: 'indicative',
      },
      drop,
      { label, metWhen: 'above', limit: filterDropInH2O.restricts },
    ),
    // A clean filter that is too dense or too small takes as much: only both together settle it.
    weighTogether(
      {
        id: 'dirty_and_takes_too_much',
        statement: 'The filter is seen dirty, and the pressure across it is too high.',
        direction: 'for',
        weight: 'decisive',
      },
      whenMeasured(drop, 'pressure across the filter', 'above', filterDropInH2O.restricts),
      [whenObserved(facts, 'filter_dirty')],
    ),
    weighObservation(facts, {
      id: 'seen_clean',
      statement: 'The filter is clean.',
      direction: 'against',
      code: 'filter_dirty',
      answer: 'no',
      weight: 'decisive',
    }),
    weighLimit(
      {
        id: 'takes_little',
        statement: 'The filter takes no more than a clean one.',
        direction: 'against',
        weight: 'indicative',
      },
      drop,
      {
        label,
        metWhen: 'below',
        limit: filterDropInH2O.free,
        because: 'a clean one takes less than',
      },
    ),
  ];
}
