import { chargeByWeightOz } from '../refrigerant/charge-by-weight.ts';
import { combineInQuadrature } from '../uncertainty/combine-in-quadrature.ts';
import type { Facts } from './admit-evidence.ts';
import { measuredAt, type Settled } from './measured.ts';
import { plateOf } from './plate-of.ts';
import { remembered } from './remembered-for.ts';

/**
 * Between these a weighed charge counts as right, in percent of what is asked: a recovery leaves a
 * little vapor behind and some of it in the oil. Common practice, no source.
 */
export const chargePercent = { low: 90, high: 110 } as const;

/**
 * The recovered charge in percent of what nameplate and line set ask for, with the doubts of scale
 * and tape. No figure while the factory charge, the adder or the length is not on record.
 */
export const chargeAgainstAskedOf = remembered((facts): Settled => {
  const recovered = measuredAt(facts, 'recovered_charge', 'mass');
  if (recovered.kind !== 'settled') return recovered;
  const { measured, doubts } = recovered;
  const asked = askedOz(facts);
  if (typeof asked === 'string') {
    return { kind: 'unusable', why: asked, readingIds: measured.readingIds };
  }
  const percent = (100 * measured.value) / asked.oz;
  return {
    kind: 'settled',
    doubts,
    measured: {
      value: percent,
      uncertainty: combineInQuadrature(
        (100 * measured.uncertainty) / asked.oz,
        (percent * asked.uncertaintyOz) / asked.oz,
      ),
      unit: '%',
      how: 'by scale, of what nameplate and line set ask for',
      readingIds: [...measured.readingIds, ...asked.readingIds],
    },
  };
});

type Asked = { oz: number; uncertaintyOz: number; readingIds: readonly string[] };

/** What the system should hold, or what to record so that it can be told. */
function askedOz(facts: Facts): Asked | string {
  const factoryOz = plateOf(facts, 'factoryChargeOz');
  if (factoryOz === undefined) return 'Record the factory charge from the nameplate.';
  const adderOzPerFt = plateOf(facts, 'lineSetOzPerFt');
  const includedFt = plateOf(facts, 'lineSetIncludedFt');
  const isOneMachine = facts.equipment.kind === 'package_unit';
  if (isOneMachine) return { oz: factoryOz, uncertaintyOz: 0, readingIds: [] };
  if (adderOzPerFt === undefined || includedFt === undefined) {
    return 'Record what the manual adds for each foot of line set, and the length it includes.';
  }
  const line = measuredAt(facts, 'line_set', 'length');
  if (line.kind !== 'settled') return 'Measure the length of the line set.';
  const { value: lineFt, uncertainty: uncertaintyFt, readingIds } = line.measured;
  const factoryAllowanceOz = includedFt * adderOzPerFt;
  const oz = factoryOz + chargeByWeightOz({ lineFt, adderOzPerFt, factoryAllowanceOz });
  return { oz, uncertaintyOz: adderOzPerFt * uncertaintyFt, readingIds };
}
