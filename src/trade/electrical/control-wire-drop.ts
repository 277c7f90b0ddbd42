/**
 * Volts lost in a pair of control wires, out and back: V = 2 x L x R x I.
 * Resistances from memory of NEC chapter 9, table 8, solid copper at 75 C.
 * Worked: 18 AWG, 100 ft one way, 0.40 A -> 0.62 V.
 */
export function controlWireDropVolts(wire: {
  oneWayFt: number;
  amps: number;
  gaugeAwg: 16 | 18;
}): number {
  return (2 * wire.oneWayFt * ohmsPerThousandFt[wire.gaugeAwg] * wire.amps) / 1000;
}

const ohmsPerThousandFt = { 16: 4.89, 18: 7.77 } as const;
