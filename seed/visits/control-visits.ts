import { changeSheet, type SheetChange } from './change-sheet.ts';
import { airDegF, amps, microfarads, ohms, pipeDegF, psig, volts } from './measured-by.ts';
import {
  allStill,
  heatPumpSides,
  oldSplitSides,
  outdoorStill,
  splitAirHandlerSides,
  splitFurnaceSides,
} from './states.ts';
import { heatPump, miniSplit, oldSplit, splitAirHandler, splitFurnace } from './systems.ts';
import type { Visit } from './visit.ts';
import type { MachineId, Read } from './visit-sheet.ts';

/** Nothing behind the board's fuse has 24 V any more. */
function noControlVoltage(indoor: MachineId, read: Read): SheetChange {
  return {
    machines: {
      [indoor]: {
        read: {
          'control_supply.voltage': volts(0.03),
          'thermostat_supply.voltage': volts(0.03),
          'thermostat_cooling_out.voltage': volts(0.02),
          'board_cooling_call.voltage': volts(0.02),
          'board_fan_call.voltage': volts(0.02),
          ...read,
        },
        without: ['transformer_secondary.current'],
      },
    },
  };
}

const noCallIndoors: Read = {
  'thermostat_cooling_out.voltage': volts(0.05),
  'board_cooling_call.voltage': volts(0.04),
  'board_fan_call.voltage': volts(0.04),
  'transformer_secondary.current': amps(0.19),
};

/** Calls whose cause lies on the 24 V side. */
export const controlVisits: Visit[] = [
  {
    name: 'the thermostat left on heat above a dirty filter',
    complaint: 'The grandchildren were here, and since then it does nothing at all.',
    call: 'no_cooling',
    truth: 'thermostat_set_wrong',
    onMachine: 'furnace',
    provable: true,
    twist: 'misleading',
    story:
      'Somebody moved the thermostat to heat. Set to cool it starts at once; the gray filter is not why it stood still.',
    sheet: changeSheet(oldSplit, allStill(oldSplitSides), {
      house: {
        thermostat_set_wrong: 'yes',
        thermostat_starts_when_set: 'yes',
        thermostat_jumper_starts_cooling: 'yes',
        thermostat_calling_cooling: 'no',
      },
      machines: {
        furnace: { seen: { filter_dirty: 'yes' }, read: noCallIndoors },
      },
    }),
  },
  {
    name: 'the blank thermostat with empty batteries',
    complaint: 'The little screen in the hall is dark and the house is getting hot.',
    call: 'no_cooling',
    truth: 'dead_thermostat_batteries',
    onMachine: 'furnace',
    provable: true,
    twist: 'plain',
    story:
      'The two cells of the thermostat are empty and it cannot close its relay. The control supply is there and with R joined to Y the cooling starts.',
    sheet: changeSheet(splitFurnace, allStill(splitFurnaceSides), {
      house: {
        thermostat_screen_blank: 'yes',
        thermostat_calling_cooling: 'no',
        thermostat_starts_when_set: 'no',
        thermostat_jumper_starts_cooling: 'yes',
      },
      houseWithout: ['thermostat_set_wrong', 'thermostat_low_battery_shown'],
      machines: {
        furnace: { read: { ...noCallIndoors, 'thermostat_battery.voltage': volts(1.87) } },
        coil: {
          read: { 'float_switch_in.voltage': volts(0.04), 'float_switch_out.voltage': volts(0.04) },
        },
      },
    }),
  },
  {
    name: 'the thermostat whose relay does not close',
    complaint: 'It says cooling on the wall, but nothing happens when I turn it down.',
    call: 'no_cooling',
    truth: 'failed_thermostat',
    onMachine: 'furnace',
    provable: true,
    twist: 'misleading',
    story:
      'The thermostat shows that it calls and has its 25 V, yet sends none on; joined by hand the cooling starts. Its batteries are fair, though it warns of them.',
    sheet: changeSheet(oldSplit, allStill(oldSplitSides), {
      house: {
        thermostat_low_battery_shown: 'yes',
        thermostat_starts_when_set: 'no',
        thermostat_jumper_starts_cooling: 'yes',
      },
      machines: {
        furnace: { read: { ...noCallIndoors, 'thermostat_battery.voltage': volts(2.71) } },
      },
    }),
  },
  {
    name: 'the fuse that went when the thermostat was changed',
    complaint: 'My son put in a new thermostat on Sunday and it never came on.',
    call: 'no_cooling',
    truth: 'open_control_fuse',
    onMachine: 'furnace',
    provable: true,
    twist: 'misleading',
    story:
      'Two bare wires touched while the thermostat was changed with the power on. The cable and the coil measure sound, and a new fuse holds.',
    sheet: changeSheet(
      splitFurnace,
      allStill(splitFurnaceSides),
      noControlVoltage('furnace', { 'transformer_secondary.voltage': volts(26.92) }),
      {
        machines: {
          furnace: {
            seen: {
              control_fuse_reads_open: 'yes',
              control_fuse_seen_blown: 'yes',
              control_short_looked_for: 'yes',
            },
            read: { 'capacitor_blower.capacitance': microfarads(9.62) },
          },
          coil: {
            read: {
              'float_switch_in.voltage': volts(0.02),
              'float_switch_out.voltage': volts(0.02),
            },
          },
          outdoor: { read: { 'control_cable.resistance': ohms(1_870_000) } },
        },
      },
    ),
  },
  {
    name: 'the cable that a rodent chewed',
    complaint: 'Nothing comes on, and the thermostat went dark a few days ago.',
    call: 'no_cooling',
    truth: 'control_short',
    onMachine: 'outdoor',
    provable: true,
    twist: 'plain',
    story:
      'The outdoor control cable is chewed behind the unit and its wires touch. It opened the fuse, and with the coil taken off the cable still measures almost nothing.',
    sheet: changeSheet(
      splitAirHandler,
      allStill(splitAirHandlerSides),
      noControlVoltage('air_handler', {
        'transformer_secondary.voltage': volts(27.31),
        'float_switch_in.voltage': volts(0.02),
        'float_switch_out.voltage': volts(0.02),
      }),
      {
        house: { thermostat_screen_blank: 'yes', thermostat_calling_cooling: 'no' },
        houseWithout: ['thermostat_set_wrong'],
        machines: {
          air_handler: {
            seen: {
              control_fuse_reads_open: 'yes',
              control_fuse_seen_blown: 'yes',
              control_short_looked_for: 'yes',
            },
          },
          outdoor: {
            seen: { control_wire_damaged: 'yes' },
            read: { 'control_cable.resistance': ohms(0.7) },
          },
        },
      },
    ),
  },
  {
    name: 'the wire that the trimmer cut',
    complaint: 'Air comes out but it is not cold, ever since the yard was done.',
    call: 'no_cooling',
    truth: 'broken_control_wire',
    onMachine: 'outdoor',
    provable: true,
    twist: 'misleading',
    story:
      'A line trimmer cut the cooling wire at the wall: 26 V leave the indoor board and none arrive. The outdoor coil is dirty at its foot, which would not stop a contactor.',
    sheet: changeSheet(heatPump, outdoorStill(heatPumpSides), {
      machines: {
        outdoor: {
          seen: { control_wire_damaged: 'yes', outdoor_coil_dirty: 'yes' },
          read: {
            'coil_sensor.temperature': pipeDegF(96.8),
            'coil_sensor.resistance': ohms(6_230),
          },
        },
      },
    }),
  },
  {
    name: 'the transformer that gives nothing',
    complaint: 'Dead as a doornail. I changed the batteries, no difference.',
    call: 'no_cooling',
    truth: 'failed_transformer',
    onMachine: 'furnace',
    provable: true,
    twist: 'plain',
    story:
      'The primary has its 119 V and the secondary has none; its winding is open. Fuse and cable are sound, so that nothing shorted it.',
    sheet: changeSheet(
      oldSplit,
      allStill(oldSplitSides),
      noControlVoltage('furnace', { 'transformer_secondary.voltage': volts(0.05) }),
      { machines: { furnace: { read: { 'transformer_primary.voltage': volts(119.3) } } } },
    ),
  },
  {
    name: 'the indoor board that keeps the call to itself',
    complaint: 'No air from the vents, nothing outside, but the wall thing looks normal.',
    call: 'no_cooling',
    truth: 'failed_indoor_board',
    onMachine: 'furnace',
    provable: true,
    twist: 'misleading',
    story:
      'Water from above burnt a track of the board: it has its supply and its calls and feeds neither blower nor cooling output. The fuse is whole, and the blower and its capacitor are sound though the capacitor is 4 % low.',
    sheet: changeSheet(splitFurnace, allStill(splitFurnaceSides), {
      machines: {
        furnace: {
          seen: { board_burnt: 'yes', blower_called_and_fed: 'no' },
          read: {
            'board_fan_call.voltage': volts(25.83),
            'board_cooling_call.voltage': volts(25.8),
            'capacitor_blower.capacitance': microfarads(9.63),
            'transformer_secondary.current': amps(0.24),
          },
        },
        coil: {
          read: { 'float_switch_in.voltage': volts(0.06), 'float_switch_out.voltage': volts(0.06) },
        },
      },
    }),
  },
  {
    name: 'the coil sensor that drifted',
    complaint: 'The bedroom unit blows for two minutes, then only air, and blinks.',
    call: 'no_cooling',
    truth: 'failed_sensor',
    onMachine: 'mini_split',
    provable: true,
    twist: 'plain',
    story:
      'The sensor of the indoor coil has drifted to a third of its resistance and the controller stops the compressor. The other sensor is right and the circuit holds its pressure.',
    sheet: changeSheet(miniSplit, {
      house: { thermostat_starts_when_set: 'no' },
      machines: {
        mini_split: {
          seen: {
            controller_reports_sensor_fault: 'yes',
            compressor_running: 'no',
            outdoor_fan_running: 'no',
          },
          read: {
            'coil_sensor.resistance': ohms(3_140),
            'coil_sensor.temperature': pipeDegF(80.6),
            'air_sensor.resistance': ohms(8_970),
            'air_sensor.temperature': airDegF(81.4),
            'return_air.temperature': airDegF(81.6),
            'supply_air.temperature': airDegF(81.9),
            'suction_port.gauge_pressure': psig(262.3),
            'suction_line.temperature': pipeDegF(86.4),
          },
          without: [
            'breaker.voltage',
            'breaker_holds_under_load',
            'line_connection.voltage',
            'outdoor_fan_lead.current',
            'outdoor_coil_cleared_pressure_fell',
            'pressures_hunt',
            'reversing_valve_shifts',
          ],
        },
      },
    }),
  },
];
