import { seaLevelPsia } from './atmosphere.ts';
import type { RefrigerantCode } from './refrigerants.ts';
import {
  makeSaturationCurve,
  pressureOnCurvePsia,
  type SaturationCurve,
  slopeOnCurveDegFPerPsi,
  temperatureOnCurveDegF,
} from './saturation-curve.ts';
import { saturationGrid, saturationTable } from './saturation-table.ts';

/**
 * Gauge pressure at which the liquid starts to boil at a temperature in F; undefined outside -40 F
 * to 150 F. Exact at the points of our table (published equations of state, 5 F apart), within
 * 0.01 psi between them. Subcooling and head pressure belong to this line.
 * Worked: R-410A at 110 F -> 366.5 psig.
 */
export function bubblePressurePsig(
  refrigerant: RefrigerantCode,
  degF: number,
  atmospherePsia: number = seaLevelPsia,
): number | undefined {
  return gauge(pressureOnCurvePsia(curves[refrigerant].bubble, degF), atmospherePsia);
}

/**
 * Gauge pressure at which the last liquid is gone at a temperature in F; undefined outside -40 F to
 * 150 F. Superheat belongs to this line.
 * Worked: R-407C at 45 F -> 70.7 psig, where its bubble pressure is 88.8 psig.
 */
export function dewPressurePsig(
  refrigerant: RefrigerantCode,
  degF: number,
  atmospherePsia: number = seaLevelPsia,
): number | undefined {
  return gauge(pressureOnCurvePsia(curves[refrigerant].dew, degF), atmospherePsia);
}

/**
 * Temperature in F of boiling liquid under a gauge pressure; undefined when the pressure is none
 * that our table holds between -40 F and 150 F.
 * Worked: R-407C at 260.2 psig -> 110.0 F; its dew is 118.6 F.
 */
export function bubbleTemperatureDegF(
  refrigerant: RefrigerantCode,
  psig: number,
  atmospherePsia: number = seaLevelPsia,
): number | undefined {
  return temperatureOnCurveDegF(curves[refrigerant].bubble, psig + atmospherePsia);
}

/**
 * Temperature in F of vapor about to condense under a gauge pressure; undefined when the pressure
 * is none that our table holds between -40 F and 150 F.
 * Worked: R-410A at 118.0 psig -> 39.8 F; with the atmosphere of 5,000 ft -> 38.75 F.
 */
export function dewTemperatureDegF(
  refrigerant: RefrigerantCode,
  psig: number,
  atmospherePsia: number = seaLevelPsia,
): number | undefined {
  return temperatureOnCurveDegF(curves[refrigerant].dew, psig + atmospherePsia);
}

/** How much the bubble temperature rises per psi, F/psi; undefined outside the table. */
export function bubbleSlopeDegFPerPsi(
  refrigerant: RefrigerantCode,
  psig: number,
  atmospherePsia: number = seaLevelPsia,
): number | undefined {
  return slopeOnCurveDegFPerPsi(curves[refrigerant].bubble, psig + atmospherePsia);
}

/**
 * How much the dew temperature rises per psi, F/psi; undefined outside the table.
 * Worked: R-410A at 118 psig -> 0.440 F/psi.
 */
export function dewSlopeDegFPerPsi(
  refrigerant: RefrigerantCode,
  psig: number,
  atmospherePsia: number = seaLevelPsia,
): number | undefined {
  return slopeOnCurveDegFPerPsi(curves[refrigerant].dew, psig + atmospherePsia);
}

type Curves = { bubble: SaturationCurve; dew: SaturationCurve };

/** Computed once, so that a look-up allocates nothing. */
const curves: Record<RefrigerantCode, Curves> = {
  'R-22': curvesOf('R-22'),
  'R-32': curvesOf('R-32'),
  'R-134a': curvesOf('R-134a'),
  'R-407C': curvesOf('R-407C'),
  'R-410A': curvesOf('R-410A'),
  'R-454B': curvesOf('R-454B'),
};

function curvesOf(refrigerant: RefrigerantCode): Curves {
  const { bubblePsig, dewPsig } = saturationTable[refrigerant];
  return { bubble: curveThrough(bubblePsig), dew: curveThrough(dewPsig) };
}

function curveThrough(psigs: readonly number[]): SaturationCurve {
  return makeSaturationCurve(
    saturationGrid,
    psigs.map((psig) => psig + seaLevelPsia),
  );
}

function gauge(psia: number | undefined, atmospherePsia: number): number | undefined {
  return psia === undefined ? undefined : psia - atmospherePsia;
}
