import type { SignWords } from './sign.ts';

/** The refrigerant circuit, running. */
export const refrigerantSigns = {
  suction: {
    on: 'outdoor',
    needs: ['suction_port.gauge_pressure'],
    usually: { low: 0.15, fine: 0.7, high: 0.15 },
  },
  head: {
    on: 'outdoor',
    needs: ['liquid_port.gauge_pressure', 'outdoor_air.temperature'],
    usually: { low: 0.12, fine: 0.73, high: 0.15 },
  },
  superheat: {
    on: 'outdoor',
    needs: ['suction_port.gauge_pressure', 'suction_line.temperature'],
    usually: { low: 0.12, fine: 0.74, high: 0.14 },
  },
  subcooling: {
    on: 'outdoor',
    needs: ['liquid_port.gauge_pressure', 'liquid_line.temperature'],
    usually: { low: 0.13, fine: 0.74, high: 0.13 },
  },
  filter_drier_drop: {
    on: 'any',
    needs: ['filter_drier_in.temperature', 'filter_drier_out.temperature'],
    usually: { high: 0.02, fine: 0.98 },
  },
  reversing_valve_lines: {
    on: 'outdoor',
    needs: ['reversing_valve_suction_in.temperature', 'reversing_valve_suction_out.temperature'],
    usually: { leaks: 0.02, fine: 0.98 },
  },
  charge: {
    on: 'outdoor',
    needs: ['recovered_charge.mass'],
    usually: { low: 0.12, fine: 0.8, over: 0.08 },
  },
} as const satisfies Record<string, SignWords>;
