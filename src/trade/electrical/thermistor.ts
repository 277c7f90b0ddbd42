/** The two figures that a maker gives for a sensor whose resistance falls as it warms. */
export type Thermistor = { ohmsAt77F: number; betaK: number };

/**
 * The resistance of a thermistor at a temperature, in ohms: R = R77 x exp(beta x (1/T - 1/298.15 K)),
 * which is how beta is defined (from memory of IEC 60539-1).
 * Worked: 10 kilo-ohm, 3977 K (a published data sheet, beta taken from 77 to 185 F) at 185 F ->
 * 1070 ohm as that sheet says. Away from those two temperatures one beta is not quite enough: at
 * 32 F it gives 33,901 ohm where the sheet says 32,560, 4 % less.
 */
export function thermistorOhms({ ohmsAt77F, betaK }: Thermistor, tempDegF: number): number {
  return ohmsAt77F * Math.exp(betaK * (1 / toKelvin(tempDegF) - 1 / toKelvin(77)));
}

/**
 * How far its resistance falls for each degree Fahrenheit, as a share of itself: beta / T^2 for each
 * kelvin, the derivative of the formula above. Worked: 3977 K at 77 F -> 0.0249 for each degree F.
 */
export function thermistorFallPerDegF({ betaK }: Thermistor, tempDegF: number): number {
  return (betaK / toKelvin(tempDegF) ** 2) * (5 / 9);
}

function toKelvin(tempDegF: number): number {
  return ((tempDegF - 32) * 5) / 9 + 273.15;
}
