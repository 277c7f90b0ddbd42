import { type TaskCode, taskWords } from '../src/trade/index.ts';

/** What has to be opened first, and how long that takes. */
const OUTDOOR = ['outdoor_unit_cabinet', 10] as const;
const INDOOR = ['indoor_unit_cabinet', 10] as const;
const PANEL = ['electrical_panel', 0] as const;
const WALL = ['thermostat', 0] as const;
const DUCTS = ['duct_space', 20] as const;
/** Gauges and hoses on, purged, and off again. */
const CIRCUIT = ['refrigerant_circuit', 15] as const;

/** Every task of the catalog. The minutes are invented. */
export const bookTasks = [
  task('reset_breaker', 5, PANEL),
  task('trace_breaker_trip', 45, OUTDOOR),
  task('restore_disconnect', 5, OUTDOOR),
  task('replace_disconnect_fuses', 10, OUTDOOR),
  task('trace_disconnect_fuse', 45, OUTDOOR),
  task('remake_line_connection', 30, OUTDOOR),
  task('advise_electrician', 10, PANEL),
  task('advise_utility', 10, PANEL),
  task('set_thermostat', 5, WALL),
  task('replace_thermostat_batteries', 5, WALL),
  task('replace_thermostat', 45, WALL),
  task('replace_control_fuse', 10, INDOOR),
  task('trace_control_short', 60, INDOOR),
  task('repair_control_wiring', 40, INDOOR),
  task('replace_transformer', 35, INDOOR),
  task('replace_indoor_board', 60, INDOOR),
  task('replace_outdoor_board', 55, OUTDOOR),
  task('trace_pressure_trip', 45, OUTDOOR),
  task('replace_sensor', 20, OUTDOOR),
  task('reset_float_switch', 5, INDOOR),
  task('clear_condensate_drain', 30, INDOOR),
  task('replace_float_switch', 20, INDOOR),
  task('replace_condensate_pump', 40, INDOOR),
  task('replace_drain_pan', 90, INDOOR),
  task('replace_contactor', 35, OUTDOOR),
  task('replace_dual_run_capacitor', 30, OUTDOOR),
  task('replace_compressor_run_capacitor', 30, OUTDOOR),
  task('replace_fan_run_capacitor', 30, OUTDOOR),
  task('replace_blower_run_capacitor', 30, INDOOR),
  task('replace_start_device', 30, OUTDOOR),
  task('add_start_device', 30, OUTDOOR),
  task('replace_compressor', 330, CIRCUIT),
  task('replace_outdoor_unit', 420, CIRCUIT),
  task('trace_overload', 45, OUTDOOR),
  task('replace_outdoor_fan_motor', 75, OUTDOOR),
  task('replace_blower_motor', 90, INDOOR),
  task('replace_blower_module', 60, INDOOR),
  task('replace_filter', 10, INDOOR),
  task('clean_indoor_coil', 120, INDOOR),
  task('clean_blower_wheel', 90, INDOOR),
  task('open_registers', 15, DUCTS),
  task('repair_duct', 60, DUCTS),
  task('advise_duct_work', 15, DUCTS),
  task('trace_icing', 60, INDOOR),
  task('clean_outdoor_coil', 60, OUTDOOR),
  task('search_leak', 90, CIRCUIT),
  task('repair_leak', 150, CIRCUIT),
  task('add_refrigerant', 45, CIRCUIT),
  task('remove_refrigerant', 45, CIRCUIT),
  task('renew_charge', 120, CIRCUIT),
  task('replace_filter_drier', 105, CIRCUIT),
  task('replace_metering_device', 150, CIRCUIT),
  task('refasten_sensing_bulb', 20, INDOOR),
  task('replace_reversing_valve', 240, CIRCUIT),
  task('replace_reversing_valve_coil', 25, OUTDOOR),
  task('replace_defrost_board', 50, OUTDOOR),
];

function task(
  code: TaskCode,
  minutes: number,
  [accessGroup, accessMinutes]: readonly [group: string, minutes: number],
) {
  return { code, name: taskWords[code].name, minutes, accessGroup, accessMinutes };
}
