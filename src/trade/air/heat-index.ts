/**
 * How hot the air feels in the shade, F, by the National Weather Service: Rothfusz's regression
 * (technical attachment SR 90-23) with its two adjustments, and the simple average below 80 F.
 * Direct sun adds up to 15 F. Undefined for a humidity outside 0 to 100 %.
 * Worked: 90 F, 70 % -> 105.92; 78 F, 60 % -> 78.16.
 */
export function heatIndexDegF(
  temperatureDegF: number,
  relativeHumidityPercent: number,
): number | undefined {
  if (!(relativeHumidityPercent >= 0 && relativeHumidityPercent <= 100)) return undefined;
  const simple = simpleDegF(temperatureDegF, relativeHumidityPercent);
  if (simple < 80) return simple;
  return (
    regressionDegF(temperatureDegF, relativeHumidityPercent) +
    adjustmentDegF(temperatureDegF, relativeHumidityPercent)
  );
}

export type HeatCategory = 'none' | 'caution' | 'extreme_caution' | 'danger' | 'extreme_danger';

/**
 * The category of a heat index, in the more cautious of the two versions the National Weather
 * Service has published: 80, 90, 103 and 125 F. The bounds are whole degrees, so the index is
 * rounded first: 102.6 is danger.
 */
export function heatCategory(indexDegF: number): HeatCategory {
  const shown = Math.round(indexDegF);
  if (shown >= 125) return 'extreme_danger';
  if (shown >= 103) return 'danger';
  if (shown >= 90) return 'extreme_caution';
  return shown >= 80 ? 'caution' : 'none';
}

/** The mean of the temperature and the Weather Service's simple formula. */
function simpleDegF(t: number, rh: number): number {
  return (0.5 * (t + 61 + 1.2 * (t - 68) + 0.094 * rh) + t) / 2;
}

function regressionDegF(t: number, rh: number): number {
  return (
    -42.379 +
    2.04901523 * t +
    10.14333127 * rh -
    0.22475541 * t * rh -
    0.00683783 * t * t -
    0.05481717 * rh * rh +
    0.00122874 * t * t * rh +
    0.00085282 * t * rh * rh -
    0.00000199 * t * t * rh * rh
  );
}

function adjustmentDegF(t: number, rh: number): number {
  if (rh < 13 && t >= 80 && t <= 112) {
    return -((13 - rh) / 4) * Math.sqrt((17 - Math.abs(t - 95)) / 17);
  }
  if (rh > 85 && t >= 80 && t <= 87) return ((rh - 85) / 10) * ((87 - t) / 5);
  return 0;
}
