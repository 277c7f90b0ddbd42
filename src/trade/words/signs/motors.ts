import type { SignWords } from './sign.ts';

/** Contactor, capacitors, compressor and fans. */
export const motorsSigns = {
  contactor_coil_volts: {
    on: 'outdoor',
    needs: ['contactor_coil.voltage'],
    usually: { none: 0.1, low: 0.02, fine: 0.88 },
  },
  contactor_coil_ohms: {
    on: 'outdoor',
    needs: ['contactor_coil.resistance'],
    usually: { short: 0.01, fine: 0.99 },
  },
  contactor_drop: {
    on: 'outdoor',
    needs: ['contactor_pole_1.voltage', 'contactor_pole_2.voltage'],
    usually: { high: 0.01, raised: 0.05, fine: 0.94 },
  },
  capacitor_herm: {
    on: 'outdoor',
    needs: ['capacitor_herm.capacitance'],
    orNeeds: ['capacitor_herm.current', 'capacitor_herm.voltage'],
    usually: { failed: 0.03, weak: 0.1, fine: 0.87 },
  },
  capacitor_fan: {
    on: 'outdoor',
    needs: ['capacitor_fan.capacitance'],
    usually: { failed: 0.03, weak: 0.1, fine: 0.87 },
  },
  capacitor_blower: {
    on: 'indoor',
    needs: ['capacitor_blower.capacitance'],
    usually: { failed: 0.02, weak: 0.08, fine: 0.9 },
  },
  start_capacitor: {
    on: 'outdoor',
    needs: ['start_capacitor.capacitance'],
    usually: { failed: 0.03, fine: 0.97 },
  },
  compressor_amps: {
    on: 'outdoor',
    needs: ['compressor_common.current'],
    usually: { none: 0.15, normal: 0.78, high: 0.05, locked: 0.02 },
  },
  compressor_windings: {
    on: 'outdoor',
    needs: [
      'compressor_c_to_r.resistance',
      'compressor_c_to_s.resistance',
      'compressor_r_to_s.resistance',
    ],
    usually: { off: 0.02, fine: 0.98 },
  },
  compressor_to_ground: {
    on: 'outdoor',
    needs: ['compressor_to_ground.resistance'],
    usually: { grounded: 0.005, fine: 0.995 },
  },
  outdoor_fan_amps: {
    on: 'outdoor',
    needs: ['outdoor_fan_lead.current'],
    usually: { none: 0.15, fine: 0.8, high: 0.05 },
  },
  outdoor_fan_volts: {
    on: 'outdoor',
    needs: ['outdoor_fan_supply.voltage'],
    usually: { none: 0.12, fine: 0.88 },
  },
  blower_amps: {
    on: 'indoor',
    needs: ['blower_lead.current'],
    usually: { none: 0.06, fine: 0.9, high: 0.04 },
  },
  blower_volts: {
    on: 'indoor',
    needs: ['blower_supply.voltage'],
    usually: { none: 0.06, fine: 0.94 },
  },
} as const satisfies Record<string, SignWords>;
