/**
 * Saturation pressure over temperature between tabulated points. ln(psia) is a monotone cubic in
 * 1/T on each step, which is nearly a straight line because a vapor pressure follows
 * ln p = a - b/T closely; slopes at the points come from the five nearest, so that the error falls
 * with the fourth power of the step.
 */
export type SaturationCurve = {
  fromDegF: number;
  toDegF: number;
  stepDegF: number;
  psiaMin: number;
  psiaMax: number;
  pieces: readonly Piece[];
};

/**
 * One step of the curve: u = 1/T at its cold end, by how much u changes to its warm end, and
 * ln(psia) = c0 + c1*t + c2*t^2 + c3*t^3 with t from 0 (cold) to 1 (warm).
 */
type Piece = { u: number; width: number; c0: number; c1: number; c2: number; c3: number };

/** A tabulated point: x = 1/T in 1/R, y = ln(psia). */
type Point = { x: number; y: number };

/** Fahrenheit to Rankine. */
const zeroDegFInRankine = 459.67;

/**
 * A pressure that comes back from the gauge reading of a table's end may be off by the rounding of
 * one subtraction; it still counts as inside.
 */
const roundingPsi = 1e-9;

/** The curve through rising pressures in psia, one per step, at least five of them. */
export function makeSaturationCurve(
  grid: { fromDegF: number; stepDegF: number },
  pressuresPsia: readonly number[],
): SaturationCurve {
  const points = pressuresPsia.map((psia, index) => ({
    x: 1 / (grid.fromDegF + index * grid.stepDegF + zeroDegFInRankine),
    y: Math.log(psia),
  }));
  const slopes = points.map((point, index) => slopeAt(point, nearest(points, index)));
  return {
    ...grid,
    toDegF: grid.fromDegF + (points.length - 1) * grid.stepDegF,
    psiaMin: Math.min(...pressuresPsia) - roundingPsi,
    psiaMax: Math.max(...pressuresPsia) + roundingPsi,
    pieces: points.flatMap((cold, index) => {
      const warm = points[index + 1];
      const coldSlope = slopes[index];
      const warmSlope = slopes[index + 1];
      if (warm === undefined || coldSlope === undefined || warmSlope === undefined) return [];
      return [pieceBetween(cold, coldSlope, warm, warmSlope)];
    }),
  };
}

/** Saturation pressure in psia; undefined outside the table, never extrapolated. */
export function pressureOnCurvePsia(curve: SaturationCurve, degF: number): number | undefined {
  // Written so that a temperature that is not a number is outside too.
  if (!(degF >= curve.fromDegF && degF <= curve.toDegF)) return undefined;
  const index = Math.floor((degF - curve.fromDegF) / curve.stepDegF);
  const piece = curve.pieces[Math.min(index, curve.pieces.length - 1)];
  if (piece === undefined) return undefined;
  const t = (1 / (degF + zeroDegFInRankine) - piece.u) / piece.width;
  return Math.exp(logPressure(piece, t));
}

/** Saturation temperature in F at a pressure in psia; undefined outside the table. */
export function temperatureOnCurveDegF(curve: SaturationCurve, psia: number): number | undefined {
  if (!(psia >= curve.psiaMin && psia <= curve.psiaMax)) return undefined;
  const target = Math.log(psia);
  const piece = pieceAt(curve.pieces, target);
  if (piece === undefined) return undefined;
  return 1 / (piece.u + solve(piece, target) * piece.width) - zeroDegFInRankine;
}

/** How much the saturation temperature rises per psi, F/psi; undefined outside the table. */
export function slopeOnCurveDegFPerPsi(curve: SaturationCurve, psia: number): number | undefined {
  if (!(psia >= curve.psiaMin && psia <= curve.psiaMax)) return undefined;
  const target = Math.log(psia);
  const piece = pieceAt(curve.pieces, target);
  if (piece === undefined) return undefined;
  const t = solve(piece, target);
  const u = piece.u + t * piece.width;
  // T = 1/u, so dT/dp = -(1/u^2) * (du/dt) / (d ln p/dt) / p.
  return -piece.width / (u * u * logPressureRise(piece, t) * psia);
}

function logPressure(piece: Piece, t: number): number {
  return piece.c0 + t * (piece.c1 + t * (piece.c2 + t * piece.c3));
}

function logPressureRise(piece: Piece, t: number): number {
  return piece.c1 + t * (2 * piece.c2 + t * 3 * piece.c3);
}

/** The warmest piece that starts at or below a logarithm of pressure, by halving. */
function pieceAt(pieces: readonly Piece[], target: number): Piece | undefined {
  let low = 0;
  let high = pieces.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    const piece = pieces[middle];
    if (piece !== undefined && piece.c0 <= target) low = middle;
    else high = middle - 1;
  }
  return pieces[low];
}

/**
 * The t at which a piece reaches a logarithm of pressure, by Newton's method from the straight
 * line. A piece is so nearly straight that the second step is already down at rounding.
 */
function solve(piece: Piece, target: number): number {
  let t = (target - piece.c0) / (piece.c1 + piece.c2 + piece.c3);
  for (let step = 0; step < 2; step += 1) {
    t -= (logPressure(piece, t) - target) / logPressureRise(piece, t);
  }
  return t;
}

/** The cubic that has the given values and slopes at both ends (Hermite). */
function pieceBetween(cold: Point, coldSlope: number, warm: Point, warmSlope: number): Piece {
  const width = warm.x - cold.x;
  const rise = warm.y - cold.y;
  const c1 = coldSlope * width;
  const c2 = 3 * rise - (2 * coldSlope + warmSlope) * width;
  const c3 = (coldSlope + warmSlope) * width - 2 * rise;
  return { u: cold.x, width, c0: cold.y, c1, c2, c3 };
}

/** The five points around an index; at the ends, the five first or last. */
function nearest(points: readonly Point[], index: number): readonly Point[] {
  const first = Math.min(Math.max(index - 2, 0), points.length - 5);
  return points.slice(first, first + 5);
}

/** Slope at one point of the polynomial through all of them (barycentric form). */
function slopeAt(point: Point, all: readonly Point[]): number {
  const others = all.filter((other) => other !== point);
  return others.reduce((sum, other) => {
    const weight = gapsFrom(point, all) / gapsFrom(other, all);
    return sum + (weight * (other.y - point.y)) / (point.x - other.x);
  }, 0);
}

/** The product of the distances from one point to all others. */
function gapsFrom(point: Point, all: readonly Point[]): number {
  return all.reduce(
    (product, other) => (other === point ? product : product * (point.x - other.x)),
    1,
  );
}
