import { z } from 'zod';
import { keysOf } from './keys-of.ts';

/**
 * A piece of work as the price book lists it. `restores` marks work that only puts back what
 * tripped, opened or ran empty: its class is reset wherever it appears, by type and by test.
 * `covers` names work that is done with it, so that nobody pays for that beside it.
 * `handlesRefrigerant` marks work that opens the circuit or moves its charge: the law asks for the
 * certificate of whoever does it. `installsEquipment` marks work after which a whole new machine
 * stands there: it is only ever offered beside the repair, and the law asks which one may.
 */
type TaskWords = {
  name: string;
  restores: boolean;
  handlesRefrigerant?: true;
  installsEquipment?: true;
  covers?: readonly string[];
};

/** What moves the charge; work that opens the circuit ends with it and is paid with it. */
const charging = ['add_refrigerant', 'remove_refrigerant', 'renew_charge'] as const;

export const taskWords = {
  reset_breaker: { name: 'Reset the breaker', restores: true },
  trace_breaker_trip: { name: 'Trace why the breaker trips', restores: false },
  restore_disconnect: { name: 'Put the disconnect back on', restores: true },
  replace_disconnect_fuses: { name: 'Replace the fuses of the disconnect', restores: true },
  trace_disconnect_fuse: { name: 'Trace what opens the fuses of the disconnect', restores: false },
  remake_line_connection: { name: 'Remake the burnt line connection', restores: false },
  advise_electrician: { name: 'Advise on work for a licensed electrician', restores: false },
  advise_utility: { name: 'Advise on the supply voltage', restores: false },
  set_thermostat: { name: 'Set the thermostat', restores: true },
  replace_thermostat_batteries: { name: 'Replace the batteries of the thermostat', restores: true },
  replace_thermostat: { name: 'Replace the thermostat', restores: false },
  replace_control_fuse: { name: 'Replace the control fuse', restores: true },
  trace_control_short: { name: 'Trace the short in the control circuit', restores: false },
  repair_control_wiring: { name: 'Repair the control wiring', restores: false },
  replace_transformer: { name: 'Replace the control transformer', restores: false },
  replace_indoor_board: { name: 'Replace the indoor control board', restores: false },
  replace_outdoor_board: { name: 'Replace the outdoor control board', restores: false },
  trace_pressure_trip: { name: 'Trace why the high-pressure switch opens', restores: false },
  replace_sensor: { name: 'Replace the temperature sensor', restores: false },
  reset_float_switch: { name: 'Reset the float switch', restores: true },
  clear_condensate_drain: { name: 'Clear the condensate drain', restores: false },
  replace_float_switch: { name: 'Replace the float switch', restores: false },
  replace_condensate_pump: { name: 'Replace the condensate pump', restores: false },
  replace_drain_pan: { name: 'Replace the drain pan', restores: false },
  replace_contactor: { name: 'Replace the contactor', restores: false },
  replace_dual_run_capacitor: {
    name: 'Replace the dual run capacitor',
    restores: false,
    covers: ['replace_compressor_run_capacitor', 'replace_fan_run_capacitor'],
  },
  replace_compressor_run_capacitor: {
    name: 'Replace the run capacitor of the compressor',
    restores: false,
  },
  replace_fan_run_capacitor: {
    name: 'Replace the run capacitor of the outdoor fan',
    restores: false,
  },
  replace_blower_run_capacitor: {
    name: 'Replace the run capacitor of the blower',
    restores: false,
  },
  replace_start_device: { name: 'Replace the start capacitor and its relay', restores: false },
  add_start_device: { name: 'Add a start device', restores: false },
  replace_compressor: {
    name: 'Replace the compressor',
    restores: false,
    handlesRefrigerant: true,
    covers: ['replace_filter_drier', ...charging],
  },
  replace_outdoor_unit: {
    name: 'Replace the outdoor unit',
    restores: false,
    handlesRefrigerant: true,
    installsEquipment: true,
    // It comes whole, clean, charged and with a new filter drier.
    covers: [
      'replace_compressor',
      'replace_contactor',
      'replace_dual_run_capacitor',
      'replace_compressor_run_capacitor',
      'replace_fan_run_capacitor',
      'replace_start_device',
      'add_start_device',
      'replace_outdoor_fan_motor',
      'replace_outdoor_board',
      'replace_defrost_board',
      'replace_reversing_valve',
      'replace_reversing_valve_coil',
      'replace_filter_drier',
      'clean_outdoor_coil',
      ...charging,
    ],
  },
  trace_overload: { name: 'Trace why the compressor overheats', restores: false },
  replace_outdoor_fan_motor: { name: 'Replace the outdoor fan motor', restores: false },
  replace_blower_motor: { name: 'Replace the blower motor', restores: false },
  replace_blower_module: { name: 'Replace the control module of the blower', restores: false },
  replace_filter: { name: 'Replace the filter', restores: false },
  clean_indoor_coil: { name: 'Clean the indoor coil', restores: false },
  clean_blower_wheel: { name: 'Clean the blower wheel', restores: false },
  open_registers: { name: 'Open the registers and returns', restores: false },
  repair_duct: { name: 'Repair the duct', restores: false },
  advise_duct_work: { name: 'Advise on the ducts', restores: false },
  trace_icing: { name: 'Thaw the coil and trace why it ices', restores: false },
  clean_outdoor_coil: { name: 'Clean the outdoor coil', restores: false },
  search_leak: { name: 'Search for the refrigerant leak', restores: false },
  repair_leak: {
    name: 'Repair the refrigerant leak',
    restores: false,
    handlesRefrigerant: true,
    covers: ['replace_filter_drier', ...charging],
  },
  add_refrigerant: {
    name: 'Add refrigerant by weight and readings',
    restores: false,
    handlesRefrigerant: true,
  },
  remove_refrigerant: {
    name: 'Recover the refrigerant that is too much',
    restores: false,
    handlesRefrigerant: true,
  },
  renew_charge: {
    name: 'Recover, evacuate and charge by weight',
    restores: false,
    handlesRefrigerant: true,
    covers: ['add_refrigerant', 'remove_refrigerant'],
  },
  replace_filter_drier: {
    name: 'Replace the filter drier',
    restores: false,
    handlesRefrigerant: true,
    covers: charging,
  },
  replace_metering_device: {
    name: 'Replace the metering device',
    restores: false,
    handlesRefrigerant: true,
    covers: ['replace_filter_drier', ...charging],
  },
  refasten_sensing_bulb: { name: 'Fasten and wrap the sensing bulb', restores: false },
  replace_reversing_valve: {
    name: 'Replace the reversing valve',
    restores: false,
    handlesRefrigerant: true,
    covers: ['replace_filter_drier', ...charging],
  },
  replace_reversing_valve_coil: {
    name: 'Replace the coil of the reversing valve',
    restores: false,
  },
  replace_defrost_board: { name: 'Replace the defrost board', restores: false },
} as const satisfies Record<string, TaskWords>;

export const taskCodeSchema = z.enum(keysOf(taskWords));
export type TaskCode = z.infer<typeof taskCodeSchema>;

/** The tasks that are done with this one. */
export function coveredBy(task: TaskCode): readonly string[] {
  const words: TaskWords = taskWords[task];
  return words.covers ?? [];
}

/** Whether the task opens the refrigerant circuit or moves its charge. */
export function handlesRefrigerant(task: TaskCode): boolean {
  const words: TaskWords = taskWords[task];
  return words.handlesRefrigerant === true;
}

/** Whether a whole new machine stands there after the task. */
export function installsEquipment(task: TaskCode): boolean {
  const words: TaskWords = taskWords[task];
  return words.installsEquipment === true;
}

export type RestoringTask = {
  [Code in TaskCode]: (typeof taskWords)[Code]['restores'] extends true ? Code : never;
}[TaskCode];
