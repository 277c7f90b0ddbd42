/** The highest voltage of a sine wave, which a capacitor may keep. Worked: 370 V -> 523.3 V. */
export function peakVolts(voltsRms: number): number {
  return voltsRms * Math.SQRT2;
}

/**
 * Energy in joules that a capacitor may still hold after it ran at this voltage.
 * First principles: E = C x V^2 / 2 at the peak. Worked: 45 uF, 370 V -> 6.16 J.
 */
export function storedEnergyJoules(capacitanceUf: number, voltsRms: number): number {
  return ((capacitanceUf / 1e6) * peakVolts(voltsRms) ** 2) / 2;
}

type Discharge = { capacitanceUf: number; fromVolts: number; toVolts: number };

/**
 * Seconds until a resistor has bled a capacitor down. First principles: t = R x C x ln(V0 / V).
 * Worked: 45 uF through 20,000 ohm, 523.3 to 5 V -> 4.19 s.
 */
export function bleedSeconds(discharge: Discharge & { resistorOhms: number }): number {
  return discharge.resistorOhms * secondsPerOhm(discharge);
}

/**
 * The largest resistor, in ohms, that still bleeds a capacitor down within the time; the code asks
 * for 50 V within a minute. Source: from memory of NEC 460.6.
 * Worked: 45 uF, 523.3 to 50 V in 60 s -> 568,000.
 */
export function bleederOhmsMax(discharge: Discharge & { seconds: number }): number {
  return discharge.seconds / secondsPerOhm(discharge);
}

/** What the resistor must take in the first instant, in watts. Worked: 523.3 V, 20,000 ohm -> 13.7. */
export function bleederPeakWatts(fromVolts: number, resistorOhms: number): number {
  return fromVolts ** 2 / resistorOhms;
}

function secondsPerOhm({ capacitanceUf, fromVolts, toVolts }: Discharge): number {
  return (capacitanceUf / 1e6) * Math.log(fromVolts / toVolts);
}
