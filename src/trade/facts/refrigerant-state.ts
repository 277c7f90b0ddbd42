import type { Reading } from '../evidence.ts';
import { atmospherePsia } from '../refrigerant/atmosphere.ts';
import { condensingOverAmbientWithUncertainty } from '../refrigerant/condensing-over-ambient.ts';
import { knownRefrigerant } from '../refrigerant/known-refrigerant.ts';
import type { RefrigerantCode } from '../refrigerant/refrigerants.ts';
import { dewSlopeDegFPerPsi, dewTemperatureDegF } from '../refrigerant/saturation.ts';
import { subcoolingWithUncertainty } from '../refrigerant/subcooling.ts';
import { superheatWithUncertainty } from '../refrigerant/superheat.ts';
import { combineInQuadrature } from '../uncertainty/combine-in-quadrature.ts';
import { readingUncertainty } from '../uncertainty/reading-uncertainty.ts';
import { type PointCode, pointWords } from '../words/points.ts';
import { printedUnit } from '../words/quantities.ts';
import type { Facts } from './admit-evidence.ts';
import { refrigerantOnPlate } from './circuit-plate.ts';
import { type Measured, readingsAt, type Settled, settle } from './measured.ts';
import { nearestInTime, pairGapMinutesMax } from './nearest-in-time.ts';
import { isObserved } from './observed.ts';
import { remembered } from './remembered-for.ts';

/** Superheat of the running circuit, F, from suction pressure and suction line. */
export const superheatOf = remembered((facts): Settled => {
  return stateOf(facts, 'suction_port', 'suction_line', ({ refrigerant, pressure, other }) =>
    superheatWithUncertainty(
      {
        refrigerant,
        suctionPsig: pressure.value,
        suctionLineDegF: other.value,
        altitudeFt: facts.altitudeFt,
      },
      { suctionPsi: pressure.uncertainty, suctionLineDegF: other.uncertainty },
    ),
  );
});

/** Subcooling of the running circuit, F, from liquid pressure and liquid line. */
export const subcoolingOf = remembered((facts): Settled => {
  return stateOf(facts, 'liquid_port', 'liquid_line', ({ refrigerant, pressure, other }) =>
    subcoolingWithUncertainty(
      {
        refrigerant,
        liquidPsig: pressure.value,
        liquidLineDegF: other.value,
        altitudeFt: facts.altitudeFt,
      },
      { liquidPsi: pressure.uncertainty, liquidLineDegF: other.uncertainty },
    ),
  );
});

/** How far condensing is above the outdoor air, F: the head pressure freed of the weather. */
export const condensingOverAmbientOf = remembered((facts): Settled => {
  return stateOf(facts, 'liquid_port', 'outdoor_air', ({ refrigerant, pressure, other }) =>
    condensingOverAmbientWithUncertainty(
      {
        refrigerant,
        liquidPsig: pressure.value,
        outdoorDegF: other.value,
        altitudeFt: facts.altitudeFt,
      },
      { liquidPsi: pressure.uncertainty, outdoorDegF: other.uncertainty },
    ),
  );
});

/** How far the suction saturation is below the return air, F: the suction freed of the house. */
export const returnOverSuctionOf = remembered((facts): Settled => {
  return stateOf(facts, 'suction_port', 'return_air', ({ refrigerant, pressure, other }) => {
    const dew = suctionDew(refrigerant, pressure, facts.altitudeFt);
    return (
      dew && {
        degF: other.value - dew.degF,
        uncertaintyDegF: combineInQuadrature(other.uncertainty, dew.uncertaintyDegF),
      }
    );
  });
});

/** The dew temperature of the suction pressure, F: about how cold the indoor coil is. */
export const suctionSaturationOf = remembered((facts): Settled => {
  const pressures = readingsAt(facts, 'suction_port', 'gauge_pressure');
  if (pressures.length === 0) return { kind: 'none' };
  return judged(facts, pressures, [], (refrigerant) =>
    pressures.map((each) => ({
      readings: [each],
      figure: suctionDew(refrigerant, figureOf(each), facts.altitudeFt),
    })),
  );
});

type Figure = { value: number; uncertainty: number };
type StateFigure = { degF: number; uncertaintyDegF: number } | undefined;
type Candidate = { readings: readonly Reading[]; figure: StateFigure };

/** Every pressure with the temperature taken nearest to it, turned into one figure each. */
function stateOf(
  facts: Facts,
  port: 'suction_port' | 'liquid_port',
  place: PointCode,
  derive: (pair: { refrigerant: RefrigerantCode; pressure: Figure; other: Figure }) => StateFigure,
): Settled {
  const pressures = readingsAt(facts, port, 'gauge_pressure');
  const temperatures = readingsAt(facts, place, 'temperature');
  if (pressures.length === 0) return { kind: 'none' };
  if (temperatures.length === 0) {
    const why = `Measure the temperature too: ${pointWords[place].name}.`;
    return { kind: 'unusable', why, readingIds: pressures.map(({ id }) => id) };
  }
  return judged(facts, pressures, temperatures, (refrigerant) =>
    pressures.flatMap((pressure) => {
      const other = nearestInTime(pressure, temperatures);
      if (other === undefined) return [];
      const figure = derive({
        refrigerant,
        pressure: figureOf(pressure),
        other: figureOf(other),
      });
      return [{ readings: [pressure, other], figure }];
    }),
  );
}

/** Settles the figures, or says why these readings give none. */
function judged(
  facts: Facts,
  pressures: readonly Reading[],
  temperatures: readonly Reading[],
  candidatesOf: (refrigerant: RefrigerantCode) => Candidate[],
): Settled {
  const readingIds = [...pressures, ...temperatures].map(({ id }) => id);
  const named = refrigerantOnPlate(facts);
  const refrigerant = named === undefined ? undefined : knownRefrigerant(named);
  if (refrigerant === undefined) return { kind: 'unusable', why: whyUnknown(named), readingIds };
  if (isObserved(facts, 'compressor_running', 'no')) {
    const why =
      'The compressor was not running, and pressures at rest say nothing of this; measure while it runs.';
    return { kind: 'unusable', why, readingIds };
  }
  const candidates = candidatesOf(refrigerant);
  if (candidates.length === 0) {
    const why = `Pressure and temperature must be taken within ${pairGapMinutesMax} minutes of each other; measure again.`;
    return { kind: 'unusable', why, readingIds };
  }
  const measured = candidates.flatMap(measuredOf);
  if (measured.length > 0) return settle(measured);
  const shown = pressures.map(({ value, unit }) => `${value} ${printedUnit[unit]}`).join(', ');
  const why = `${shown} is outside the table of ${refrigerant}; look whether gauge and refrigerant are right.`;
  return { kind: 'unusable', why, readingIds };
}

function measuredOf({ readings, figure }: Candidate): Measured[] {
  if (figure === undefined) return [];
  return [
    {
      value: figure.degF,
      uncertainty: figure.uncertaintyDegF,
      unit: '[degF]',
      how: 'by gauge and thermometer',
      readingIds: readings.map(({ id }) => id),
    },
  ];
}

function whyUnknown(named: string | undefined): string {
  return named === undefined
    ? 'Record the refrigerant from the nameplate of the machine that holds the compressor.'
    : `The nameplate names ${named}, whose pressures are not in our tables.`;
}

function suctionDew(
  refrigerant: RefrigerantCode,
  pressure: Figure,
  altitudeFt: number,
): StateFigure {
  const atmosphere = atmospherePsia(altitudeFt);
  const degF = dewTemperatureDegF(refrigerant, pressure.value, atmosphere);
  const slope = dewSlopeDegFPerPsi(refrigerant, pressure.value, atmosphere);
  if (degF === undefined || slope === undefined) return undefined;
  return { degF, uncertaintyDegF: slope * pressure.uncertainty };
}

function figureOf(reading: Reading): Figure {
  return { value: reading.value, uncertainty: readingUncertainty(reading) };
}
