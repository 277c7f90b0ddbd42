import { z } from 'zod';
import { type Evidence, phaseSchema, type Reading } from './evidence.ts';
import { admitEvidence, type Facts } from './facts/admit-evidence.ts';
import { splitOf } from './facts/air-state.ts';
import {
  type Measured,
  measuredFrom,
  readingsAt,
  type Settled,
  showValue,
} from './facts/measured.ts';
import { subcoolingOf, superheatOf } from './facts/refrigerant-state.ts';
import { type CapacitorSection, sectionCapacitance } from './facts/section-capacitance.ts';
import { combineInQuadrature } from './uncertainty/combine-in-quadrature.ts';
import { type PointCode, pointCodeSchema, pointWords } from './words/points.ts';
import { type Quantity, quantitySchema, unitSchema } from './words/quantities.ts';

const shownSchema = z.strictObject({
  value: z.number(),
  uncertainty: z.number(),
  readingIds: z.array(z.string()),
});

/** One figure of today beside the same one of an earlier visit. */
export const comparisonSchema = z.strictObject({
  figure: z
    .enum(['reading', 'capacitance', 'superheat', 'subcooling', 'temperature_split'])
    .meta({ description: 'All but `reading` are worked out of several readings.' }),
  name: z.string(),
  point: pointCodeSchema.nullable(),
  quantity: quantitySchema.nullable(),
  unit: unitSchema,
  today: shownSchema,
  before: shownSchema.extend({
    visitId: z.string(),
    day: z.iso.date(),
    phase: phaseSchema.meta({ description: '`left` is after the work of that visit.' }),
  }),
  difference: z.number().meta({ description: 'Today less before.' }),
  uncertainty: z.number().meta({ description: 'Of the difference, by the methods of both.' }),
  changed: z.enum(['more', 'less', 'same_within_uncertainty']),
  statement: z.string(),
});
export type Comparison = z.infer<typeof comparisonSchema>;

/** What an earlier visit recorded about the same machine, on its local day. */
export type EarlierVisit = { visitId: string; day: string; evidence: Evidence };

/**
 * What was measured today on one machine beside the last time it was measured before, each figure
 * for itself: as that visit left it where it was measured after the work, else as it was found.
 * What was never measured before has nothing beside it and is not listed. What changed comes first.
 * @param earlier the earlier visits, the latest first
 */
export function lastGood(today: Evidence, earlier: readonly EarlierVisit[]): Comparison[] {
  const facts = factsOf(today, 'found');
  const records = earlier.flatMap(({ visitId, day, evidence }) =>
    (['left', 'found'] as const).map((phase) => {
      return { visitId, day, phase, facts: factsOf(evidence, phase) };
    }),
  );
  const comparisons = figuresOf(facts).flatMap((figure) => {
    const now = figure.measure(facts);
    const last = records
      .map(({ facts: past, ...when }) => ({ ...when, measured: figure.measure(past) }))
      .find(({ measured }) => measured !== undefined);
    if (now === undefined || last?.measured === undefined) return [];
    return [compare(figure, now, { ...last, measured: last.measured })];
  });
  const isSame = ({ changed }: Comparison) => changed === 'same_within_uncertainty';
  return [...comparisons.filter((each) => !isSame(each)), ...comparisons.filter(isSame)];
}

/** What was recorded in one phase, read as what was found: figures are worked out of it alike. */
function factsOf(evidence: Evidence, phase: Reading['phase']): Facts {
  return admitEvidence({
    ...evidence,
    readings: evidence.readings
      .filter((each) => each.phase === phase)
      .map((each) => ({ ...each, phase: 'found' })),
    observations: evidence.observations
      .filter((each) => each.phase === phase)
      .map((each) => ({ ...each, phase: 'found' })),
  });
}

type Figure = Pick<Comparison, 'figure' | 'name' | 'point' | 'quantity'> & {
  measure: (facts: Facts) => Measured | undefined;
};

function figuresOf(facts: Facts): Figure[] {
  const own = facts.readings.filter(({ equipmentId }) => equipmentId === facts.equipment.id);
  const places = new Map(own.map((each) => [`${each.point}.${each.quantity}`, each]));
  return [
    ...derived,
    ...[...places.values()].filter((each) => !isDerived(each)).map(readingFigure),
  ];
}

const sections: readonly CapacitorSection[] = [
  'capacitor_herm',
  'capacitor_fan',
  'capacitor_blower',
];

const derived: readonly Figure[] = [
  ...sections.map((point): Figure => {
    return {
      figure: 'capacitance',
      name: nameOf(point, 'capacitance'),
      point,
      quantity: 'capacitance',
      measure: (facts) => settledOf(sectionCapacitance(facts, point)),
    };
  }),
  ofSystem('superheat', 'superheat', superheatOf),
  ofSystem('subcooling', 'subcooling', subcoolingOf),
  ofSystem('temperature_split', 'temperature split of the air', splitOf),
];

function ofSystem(
  figure: Figure['figure'],
  name: string,
  settle: (facts: Facts) => Settled,
): Figure {
  return {
    figure,
    name,
    point: null,
    quantity: null,
    measure: (facts) => settledOf(settle(facts)),
  };
}

/** A capacitance with the leads off stands among the derived: it compares with one under load. */
function isDerived({ point, quantity }: Reading): boolean {
  return quantity === 'capacitance' && sections.some((each) => each === point);
}

function readingFigure({ point, quantity }: Reading): Figure {
  return {
    figure: 'reading',
    name: nameOf(point, quantity),
    point,
    quantity,
    measure: (facts) => {
      const latest = readingsAt(facts, point, quantity)
        .filter(({ equipmentId }) => equipmentId === facts.equipment.id)
        .at(-1);
      return latest && measuredFrom(latest);
    },
  };
}

function nameOf(point: PointCode, quantity: Quantity): string {
  return `${quantity.replaceAll('_', ' ')}, ${pointWords[point].name}`;
}

function settledOf(settled: Settled): Measured | undefined {
  return settled.kind === 'settled' ? settled.measured : undefined;
}

type Earlier = Pick<Comparison['before'], 'visitId' | 'day' | 'phase'> & { measured: Measured };

function compare(
  { figure, name, point, quantity }: Figure,
  now: Measured,
  { measured, ...when }: Earlier,
): Comparison {
  const difference = now.value - measured.value;
  const uncertainty = combineInQuadrature(now.uncertainty, measured.uncertainty);
  const isSame = Math.abs(difference) <= uncertainty;
  const changed = isSame ? 'same_within_uncertainty' : difference > 0 ? 'more' : 'less';
  return {
    figure,
    name,
    point,
    quantity,
    unit: now.unit,
    today: shown(now),
    before: { ...shown(measured), ...when },
    difference,
    uncertainty,
    changed,
    statement: sentence(name, now, measured, when, { difference, uncertainty, changed }),
  };
}

function shown({ value, uncertainty, readingIds }: Measured): z.infer<typeof shownSchema> {
  return { value, uncertainty, readingIds: [...readingIds] };
}

/** "Capacitance, fan section: 27.13 uF today, 34.60 uF on 2026-04-12: 7.47 uF less, more than..." */
function sentence(
  name: string,
  now: Measured,
  measured: Measured,
  { day, phase }: Omit<Earlier, 'measured'>,
  { difference, uncertainty, changed }: Pick<Comparison, 'difference' | 'uncertainty' | 'changed'>,
): string {
  const { unit } = now;
  const [today, before] = [showValue(now.value, unit), showValue(measured.value, unit)];
  const left = phase === 'left' ? ', after the work' : '';
  const doubt = showValue(uncertainty, unit);
  const outcome =
    changed === 'same_within_uncertainty'
      ? `the same within the methods' ${doubt}`
      : `${showValue(Math.abs(difference), unit)} ${changed}, more than the methods' ${doubt}`;
  const what = name.charAt(0).toUpperCase() + name.slice(1);
  return `${what}: ${today} today, ${before} on ${day}${left}: ${outcome}.`;
}
