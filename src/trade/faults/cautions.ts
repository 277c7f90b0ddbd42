/** Cautions that several faults share. From memory of OSHA 29 CFR 1910.147 and 1910.333. */
export const cautions = {
  lockOut:
    'Switch off, lock and tag the disconnect; prove the tester on a live source before and after showing that nothing is live.',
  // Common practice, no source: a resistor of 15 to 20 kilo-ohm, never a screwdriver.
  storedCharge:
    'A capacitor holds a charge after power is off: discharge it through a resistor and measure below 5 V before touching it.',
  liveMeasurement:
    'Measuring under load is live work at line voltage: guarded probes, gloves and eye protection.',
  neverBypass: 'Never bypass a safety to get the system running.',
  resetOnce:
    'Reset once and only after looking for the cause; a second trip stays off. Burnt smell, buzzing, heat or water at the panel: do not reset.',
  lowVoltage: 'Switch off at the board before pulling or fitting a fuse or wire.',
  // Common practice, no source.
  waitForDelay:
    'Many thermostats and boards hold the compressor back for five minutes after a stop: wait them out before judging.',
  panelWork:
    'The lugs of an electrical panel stay live with its main off: work in it is for a licensed electrician.',
  // Common practice, no source.
  compressorTerminals:
    'A compressor terminal under pressure can blow out and spray burning oil: keep the terminal cover on whenever it is powered, and your face away from it.',
  refrigerantPressure:
    'Refrigerant burns skin and eyes with cold and stands under high pressure: gloves and goggles. Only a certified technician opens the circuit, and nothing is vented.',
  // Not above 80 %: common practice, no source. That it is recovered: 40 CFR 82.154 and 82.156.
  recoverFirst:
    'Recover before opening: into a cylinder on a scale, never filled above 80 %, until the circuit holds no pressure. A closed valve can hold some back.',
  // Common practice, no source.
  nitrogenOnly:
    'Pressure-test with dry nitrogen only, through a regulator, and never above the test pressure of the nameplate. Oxygen or compressed air with oil explodes.',
  // Common practice, no source.
  flame:
    'Braze only on a circuit that is empty and open to the air: heated shut it can burst, and refrigerant in a flame turns into poisonous gas. Let nitrogen flow, shield what can burn, extinguisher at hand.',
  // Common practice, no source.
  gasFurnace:
    'On a gas furnace: a smell of gas or the alarm for carbon monoxide means everybody out, and call from outside. Its panels go back on before it runs.',
} as const;

/** For work that moves the charge through hoses and leaves the circuit whole. */
export const chargeCautions = [cautions.refrigerantPressure, cautions.recoverFirst] as const;

/** For work that opens the refrigerant circuit, be it unscrewed or unbrazed. */
export const openCircuitCautions = [
  ...chargeCautions,
  cautions.nitrogenOnly,
  cautions.flame,
] as const;
