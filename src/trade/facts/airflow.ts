import { airflowFromRiseCfm } from '../air/airflow-from-rise.ts';
import type { Reading } from '../evidence.ts';
import { combineInQuadrature } from '../uncertainty/combine-in-quadrature.ts';
import { readingUncertainty } from '../uncertainty/reading-uncertainty.ts';
import type { Facts } from './admit-evidence.ts';
import { type Measured, measuredAt, readingsAt, type Settled, settle } from './measured.ts';
import { nearestInTime, pairGapMinutesMax } from './nearest-in-time.ts';
import { plateOf } from './plate-of.ts';
import { remembered } from './remembered-for.ts';

/**
 * How far the heat that really flows may lie from the plate's: gas is metered by an orifice, strips
 * give with the square of the voltage. Common practice, no source.
 */
const heatDoubtShare = 0.1;

/** Air through the machine, CFM: by flow hood, else by the rise of the air over heat that is known. */
export const airflowOf = remembered((facts): Settled => {
  const byHood = measuredAt(facts, 'supply_air', 'airflow');
  return byHood.kind === 'none' ? airflowByRise(facts) : byHood;
});

function airflowByRise(facts: Facts): Settled {
  const before = readingsAt(facts, 'heating_return_air', 'temperature');
  const after = readingsAt(facts, 'heating_supply_air', 'temperature');
  const readingIds = [...before, ...after].map(({ id }) => id);
  if (readingIds.length === 0) return { kind: 'none' };
  const heatBtuPerHour = heatOf(facts);
  if (heatBtuPerHour === undefined) {
    return { kind: 'unusable', why: 'Record the heat of the nameplate.', readingIds };
  }
  const pairs = after.flatMap((supply) => {
    const back = nearestInTime(supply, before);
    return back === undefined ? [] : [{ back, supply }];
  });
  const measured = pairs.flatMap((pair) => flowOver(heatBtuPerHour, pair, facts.altitudeFt));
  if (measured.length > 0) return settle(measured);
  const why = `Measure return and supply air while heating, within ${pairGapMinutesMax} minutes of each other.`;
  return { kind: 'unusable', why, readingIds };
}

/** Btu/h that reach the air at full input; 1 kW = 3,412 Btu/h. */
function heatOf(facts: Facts): number | undefined {
  const heatKw = plateOf(facts, 'heatKw');
  if (heatKw !== undefined) return heatKw * 3412;
  const input = plateOf(facts, 'heatInputBtuh');
  const efficiencyPercent = plateOf(facts, 'heatEfficiencyPercent');
  if (input === undefined || efficiencyPercent === undefined) return undefined;
  return (input * efficiencyPercent) / 100;
}

/** The least rise that both thermometers allow bounds the doubt: flow grows as the rise shrinks. */
function flowOver(
  heatBtuPerHour: number,
  { back, supply }: { back: Reading; supply: Reading },
  altitudeFt: number,
): Measured[] {
  const riseDegF = supply.value - back.value;
  const doubtDegF = combineInQuadrature(readingUncertainty(supply), readingUncertainty(back));
  const value = airflowFromRiseCfm(heatBtuPerHour, riseDegF, altitudeFt);
  const most = airflowFromRiseCfm(heatBtuPerHour, riseDegF - doubtDegF, altitudeFt);
  if (value === undefined || most === undefined) return [];
  return [
    {
      value,
      uncertainty: combineInQuadrature(most - value, heatDoubtShare * value),
      unit: '[cft_i]/min',
      how: 'by the rise of the air while heating',
      readingIds: [back.id, supply.id],
    },
  ];
}
