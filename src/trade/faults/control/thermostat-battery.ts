/**
 * The volts of the batteries of a thermostat, all together. The fewest in use are two of 1.5 V: they
 * are flat at 1.1 V each and fresh enough at 1.35 V each. Common practice, no source.
 */
export const thermostatBatteryVolts = { flatBelow: 2.2, freshAbove: 2.7 };
