import type { SignWords } from './sign.ts';

/** Air through house and machine. */
export const airSigns = {
  split: {
    on: 'indoor',
    needs: ['return_air.temperature', 'return_air.wet_bulb_temperature', 'supply_air.temperature'],
    usually: { low: 0.35, fine: 0.55, high: 0.1 },
  },
  external_static: {
    on: 'indoor',
    needs: ['return_static.static_pressure', 'supply_static.static_pressure'],
    usually: { high: 0.25, fine: 0.75 },
  },
  filter_drop: {
    on: 'indoor',
    needs: ['filter_drop.static_pressure'],
    usually: { high: 0.12, fine: 0.88 },
  },
  indoor_coil_drop: {
    on: 'indoor',
    needs: ['indoor_coil_drop.static_pressure'],
    usually: { high: 0.08, fine: 0.92 },
  },
} as const satisfies Record<string, SignWords>;
