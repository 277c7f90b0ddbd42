export type ConductorDrop = { volts: number; percent: number };

/**
 * What a single-phase branch circuit loses on its way, in volts and in percent of its supply:
 * V = 2 x K x I x L / CM. Advice, not law: NEC notes name 3 % for a branch and 5 % in all.
 * Source: published voltage-drop examples (K, circular mils); 14 and 6 AWG from memory of NEC
 * chapter 9, table 8. Worked: 20 A, 100 ft, 120 V, 12 AWG copper -> 7.90 V, 6.59 %.
 */
export function conductorDrop(circuit: {
  amps: number;
  oneWayFt: number;
  gaugeAwg: keyof typeof circularMils;
  metal: keyof typeof ohmCircularMilsPerFt;
  supplyVolts: number;
}): ConductorDrop {
  const perFt = ohmCircularMilsPerFt[circuit.metal] / circularMils[circuit.gaugeAwg];
  const volts = 2 * perFt * circuit.amps * circuit.oneWayFt;
  return { volts, percent: (volts / circuit.supplyVolts) * 100 };
}

const circularMils = { 14: 4110, 12: 6530, 10: 10_380, 8: 16_510, 6: 26_240 } as const;

/** The K of the trade: ohms of one circular mil by one foot, warm. */
const ohmCircularMilsPerFt = { copper: 12.9, aluminum: 21.2 } as const;
