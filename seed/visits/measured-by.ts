import type { Measured } from './visit-sheet.ts';

/** A value with the instrument that a technician uses for it. */
export const volts = (value: number): Measured => ({ value, method: 'multimeter' });
export const amps = (value: number): Measured => ({ value, method: 'clamp_meter' });
export const startAmps = (value: number): Measured => ({ value, method: 'clamp_meter_inrush' });
export const microfarads = (value: number): Measured => ({
  value,
  method: 'capacitance_meter_disconnected',
});
export const ohms = (value: number): Measured => ({ value, method: 'multimeter' });
/** To ground, under the test voltage of an insulation tester. */
export const groundOhms = (value: number): Measured => ({ value, method: 'insulation_tester' });
export const airDegF = (value: number): Measured => ({ value, method: 'thermometer' });
export const wetBulbDegF = (value: number): Measured => ({ value, method: 'psychrometer' });
export const pipeDegF = (value: number): Measured => ({ value, method: 'pipe_clamp_thermometer' });
export const psig = (value: number): Measured => ({ value, method: 'digital_gauge' });
export const dialPsig = (value: number): Measured => ({ value, method: 'dial_gauge' });
export const inWc = (value: number): Measured => ({ value, method: 'manometer' });
export const ounces = (value: number): Measured => ({ value, method: 'refrigerant_scale' });
export const feet = (value: number): Measured => ({ value, method: 'tape_measure' });
export const markedAmps = (value: number): Measured => ({ value, method: 'marking' });
