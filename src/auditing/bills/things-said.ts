import type { PartCategory, TaskCode } from '../../trade/index.ts';

/** What somebody does to a thing, as bills of the trade say it. */
export type Verb =
  | 'replace'
  | 'install'
  | 'reset'
  | 'clean'
  | 'add'
  | 'recover'
  | 'repair'
  | 'adjust'
  | 'trace';

/** A thing that bills name, and which tasks it may have been when something was done to it. */
export interface ThingSaid {
  /** In lower case, hyphens as spaces. */
  readonly says: readonly string[];
  /** No task where it is care that goes with other work and that no price book lists. */
  readonly done: { readonly [V in Verb]?: readonly TaskCode[] };
  /** Things that are put in by several at once. */
  readonly inSeveral?: true;
  /** How many they are where nobody counts them; 0 where that is not known. */
  readonly uncounted?: number;
  /** What part it is, where its tasks take others besides. */
  readonly part?: PartCategory;
  readonly refrigerant?: string;
  /** What it is called where the place says which: `fuse on control board`. By words of the place. */
  readonly placed?: Readonly<Record<string, string>>;
  /** What it is called after another thing: `blower motor and module`. By words of that thing. */
  readonly after?: Readonly<Record<string, string>>;
}

/** The thing of a name; only for names that stand in the list. */
export function thingCalled(name: string): ThingSaid {
  const thing = thingsSaid.find(({ says }) => says.includes(name));
  if (thing === undefined) throw new Error(`no thing is called ${name}`);
  return thing;
}

/** Both mean that another one is there now. */
const replaced = (...tasks: TaskCode[]) => ({ replace: tasks, install: tasks });

/** The words of the trade for its things. Common practice, no source. */
export const thingsSaid: readonly ThingSaid[] = [
  {
    says: ['capacitor', 'cap', 'run capacitor', 'run cap'],
    done: replaced(
      'replace_dual_run_capacitor',
      'replace_compressor_run_capacitor',
      'replace_fan_run_capacitor',
      'replace_blower_run_capacitor',
    ),
  },
  {
    says: ['dual capacitor', 'dual cap', 'dual run capacitor', 'dual run cap'],
    done: replaced('replace_dual_run_capacitor'),
  },
  {
    // It may be one section of a dual capacitor.
    says: ['compressor capacitor', 'compressor cap', 'compressor run capacitor', 'herm capacitor'],
    done: replaced('replace_compressor_run_capacitor', 'replace_dual_run_capacitor'),
  },
  {
    says: [
      'fan capacitor',
      'fan cap',
      'fan run capacitor',
      'fan motor capacitor',
      'condenser fan capacitor',
      'condenser fan motor capacitor',
      'outdoor fan capacitor',
      'outdoor fan motor capacitor',
    ],
    done: replaced('replace_fan_run_capacitor', 'replace_dual_run_capacitor'),
  },
  {
    says: [
      'blower capacitor',
      'blower cap',
      'blower run capacitor',
      'blower motor capacitor',
      'blower motor run capacitor',
      'indoor fan capacitor',
    ],
    done: replaced('replace_blower_run_capacitor'),
  },
  {
    says: [
      'start capacitor',
      'start cap',
      'start kit',
      'start device',
      'start relay',
      'hard start',
      'hard start kit',
      'hard start capacitor',
    ],
    done: {
      replace: ['replace_start_device'],
      install: ['add_start_device'],
      add: ['add_start_device'],
    },
  },
  {
    says: ['contactor', 'contacter', 'compressor contactor', 'condenser contactor'],
    done: { ...replaced('replace_contactor'), clean: [] },
  },
  { says: ['contacts', 'contact points', 'contactor points'], done: { clean: [] } },
  {
    says: ['connections', 'electrical connections', 'wire connections', 'wiring connections'],
    done: { adjust: [], clean: [] },
  },
  {
    says: ['breaker', 'circuit breaker', 'ac breaker', 'condenser breaker'],
    done: { reset: ['reset_breaker'] },
  },
  {
    says: ['breaker trip', 'breaker trips', 'tripping breaker', 'breaker tripping'],
    done: { trace: ['trace_breaker_trip'] },
  },
  {
    says: ['disconnect', 'disconnect switch', 'pullout', 'pull out', 'disconnect pullout'],
    done: { reset: ['restore_disconnect'] },
  },
  {
    says: ['disconnect fuse', 'pullout fuse'],
    done: replaced('replace_disconnect_fuses'),
    inSeveral: true,
  },
  {
    // One for each of the two legs of the supply.
    says: ['disconnect fuses', 'fuses of the disconnect', 'pullout fuses'],
    done: replaced('replace_disconnect_fuses'),
    inSeveral: true,
    uncounted: 2,
  },
  {
    says: ['fuse'],
    done: {
      ...replaced('replace_control_fuse', 'replace_disconnect_fuses'),
      repair: ['replace_control_fuse', 'replace_disconnect_fuses'],
    },
    inSeveral: true,
    placed: {
      board: 'control fuse',
      'indoor board': 'control fuse',
      'outdoor board': 'control fuse',
      disconnect: 'disconnect fuse',
    },
  },
  {
    says: ['fuses'],
    done: replaced('replace_control_fuse', 'replace_disconnect_fuses'),
    inSeveral: true,
    uncounted: 2,
    placed: { disconnect: 'disconnect fuses' },
  },
  {
    says: ['control fuse', 'board fuse', 'low voltage fuse', 'control board fuse', 'blade fuse'],
    done: replaced('replace_control_fuse'),
  },
  {
    says: [
      'float',
      'float switch',
      'safety switch',
      'drain safety switch',
      'overflow switch',
      'condensate switch',
      'safety float switch',
    ],
    done: { ...replaced('replace_float_switch'), reset: ['reset_float_switch'] },
  },
  {
    says: [
      'drain',
      'drains',
      'drain line',
      'drain pipe',
      'condensate drain',
      'condensate line',
      'condensate drain line',
    ],
    done: { clean: ['clear_condensate_drain'] },
  },
  { says: ['condensate pump', 'drain pump'], done: replaced('replace_condensate_pump') },
  { says: ['drain pan', 'condensate pan'], done: replaced('replace_drain_pan') },
  {
    says: ['thermostat', 't stat', 'tstat', 'stat'],
    done: {
      ...replaced('replace_thermostat'),
      reset: ['set_thermostat'],
      adjust: ['set_thermostat'],
    },
  },
  {
    says: ['batteries', 'thermostat batteries', 'thermostat battery', 'battery'],
    done: replaced('replace_thermostat_batteries'),
    inSeveral: true,
  },
  {
    says: ['transformer', 'control transformer', 'low voltage transformer', '24v transformer'],
    done: replaced('replace_transformer'),
  },
  {
    says: ['control board', 'circuit board', 'board'],
    done: replaced('replace_indoor_board', 'replace_outdoor_board', 'replace_defrost_board'),
  },
  {
    says: ['indoor board', 'indoor control board', 'furnace board', 'air handler board'],
    done: replaced('replace_indoor_board'),
  },
  {
    says: ['outdoor board', 'outdoor control board', 'condenser board'],
    done: replaced('replace_outdoor_board'),
  },
  {
    says: ['defrost board', 'defrost control', 'defrost control board'],
    done: replaced('replace_defrost_board'),
  },
  {
    says: ['sensor', 'temperature sensor', 'temp sensor', 'thermistor'],
    done: replaced('replace_sensor'),
  },
  { says: ['compressor'], done: replaced('replace_compressor') },
  {
    says: ['condenser', 'condensing unit', 'outdoor unit'],
    done: { ...replaced('replace_outdoor_unit'), clean: ['clean_outdoor_coil'] },
  },
  {
    says: ['fan motor'],
    done: replaced('replace_outdoor_fan_motor', 'replace_blower_motor'),
  },
  {
    says: ['condenser fan motor', 'outdoor fan motor', 'condenser motor', 'condenser fan'],
    done: replaced('replace_outdoor_fan_motor'),
  },
  {
    says: ['blower motor', 'indoor fan motor', 'indoor blower motor'],
    done: replaced('replace_blower_motor'),
  },
  {
    // Alone it may be of anything.
    says: ['module', 'control module'],
    done: {},
    after: { 'blower motor': 'blower module' },
  },
  {
    says: ['blower module', 'blower motor module', 'motor module', 'ecm module'],
    done: replaced('replace_blower_module'),
  },
  {
    says: ['filter', 'air filter', 'return filter'],
    done: replaced('replace_filter'),
    inSeveral: true,
  },
  {
    says: ['filters', 'air filters', 'return filters'],
    done: replaced('replace_filter'),
    inSeveral: true,
    uncounted: 0,
  },
  { says: ['coil'], done: { clean: ['clean_indoor_coil', 'clean_outdoor_coil'] } },
  {
    says: ['condenser coil', 'outdoor coil', 'outdoor unit coil'],
    done: { clean: ['clean_outdoor_coil'] },
  },
  {
    says: ['evaporator coil', 'evap coil', 'evaporator', 'indoor coil'],
    done: { clean: ['clean_indoor_coil'] },
  },
  {
    says: ['blower wheel', 'blower', 'squirrel cage'],
    done: { clean: ['clean_blower_wheel'] },
  },
  {
    says: ['registers', 'vents', 'supply vents', 'supply registers'],
    done: { adjust: ['open_registers'] },
  },
  {
    says: ['duct', 'ducts', 'ductwork', 'duct work', 'flex duct'],
    done: { repair: ['repair_duct'] },
  },
  {
    says: ['refrigerant', 'freon'],
    done: { add: ['add_refrigerant'], recover: ['remove_refrigerant'] },
    part: 'refrigerant',
  },
  {
    says: ['leak', 'leaks', 'refrigerant leak', 'freon leak'],
    done: { trace: ['search_leak'], repair: ['repair_leak'] },
  },
  {
    says: ['filter drier', 'filter dryer', 'drier', 'line drier', 'liquid line drier'],
    done: replaced('replace_filter_drier'),
    part: 'filter_drier',
  },
  {
    says: ['txv', 'tev', 'expansion valve', 'metering device', 'thermal expansion valve'],
    done: replaced('replace_metering_device'),
  },
  {
    says: ['sensing bulb', 'txv bulb', 'expansion valve bulb'],
    done: { adjust: ['refasten_sensing_bulb'] },
  },
  { says: ['reversing valve'], done: replaced('replace_reversing_valve') },
  {
    says: ['reversing valve coil', 'reversing valve solenoid'],
    done: replaced('replace_reversing_valve_coil'),
  },
  {
    says: [
      'low voltage wiring',
      'low voltage wire',
      'control wiring',
      'control wire',
      'thermostat wire',
      'thermostat wiring',
    ],
    done: { ...replaced('repair_control_wiring'), repair: ['repair_control_wiring'] },
  },
  {
    says: ['low voltage short', 'control short', 'short in control wiring', '24v short'],
    done: { trace: ['trace_control_short'], repair: ['repair_control_wiring'] },
  },
  {
    says: ['line connection', 'burnt connection', 'burnt wire', 'power connection'],
    done: { repair: ['remake_line_connection'], ...replaced('remake_line_connection') },
  },
];
