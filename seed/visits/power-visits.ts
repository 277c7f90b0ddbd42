import { changeSheet } from './change-sheet.ts';
import { airDegF, amps, dialPsig, inWc, microfarads, pipeDegF, volts } from './measured-by.ts';
import {
  oldSplitSides,
  outdoorWithoutPower,
  packageUnitSides,
  splitFurnaceSides,
} from './states.ts';
import { heatPump, oldSplit, packageUnit, splitFurnace } from './systems.ts';
import type { Visit } from './visit.ts';

/** Calls whose cause lies between the panel and the machine. */
export const powerVisits: Visit[] = [
  {
    name: 'the breaker that tripped in the storm',
    complaint: 'Since the thunderstorm last night the box outside has been silent.',
    call: 'no_cooling',
    truth: 'tripped_breaker',
    onMachine: 'outdoor',
    provable: true,
    twist: 'plain',
    story:
      'A surge of the storm tripped the breaker of the outdoor unit. Reset once, it holds with everything running, and nothing lasting is behind it.',
    sheet: changeSheet(splitFurnace, outdoorWithoutPower(splitFurnaceSides), {
      machines: {
        outdoor: {
          seen: {
            breaker_found_tripped: 'yes',
            breaker_trips_again: 'no',
            breaker_holds_under_load: 'yes',
            breaker_trip_cause_looked_for: 'yes',
          },
          read: {
            'disconnect_line_side.voltage': volts(0.4),
            'breaker.voltage': volts(0.101),
            'capacitor_herm.capacitance': microfarads(39.14),
          },
        },
      },
    }),
  },
  {
    name: 'the tripped breaker beside a capacitor that is a little low',
    complaint: 'The rooftop unit quit when we plugged in the welder, I think. House is at 85.',
    call: 'no_cooling',
    truth: 'tripped_breaker',
    onMachine: 'package',
    provable: true,
    twist: 'misleading',
    story:
      'A dip of the supply made the compressor stall once and the breaker tripped. The capacitor 4 % below its plate is inside its tolerance and old pitting of the contactor is no cause.',
    sheet: changeSheet(packageUnit, outdoorWithoutPower(packageUnitSides), {
      house: { indoor_fan_running: 'no', thermostat_calling_cooling: 'yes' },
      houseWithout: ['blows_warm_in_cooling'],
      machines: {
        package: {
          seen: {
            breaker_found_tripped: 'yes',
            breaker_trips_again: 'no',
            breaker_holds_under_load: 'yes',
            breaker_trip_cause_looked_for: 'yes',
            contactor_pulled_in: 'no',
            contactor_contacts_pitted: 'yes',
            blower_called_and_fed: 'no',
          },
          read: {
            'disconnect_line_side.voltage': volts(0.5),
            'breaker.voltage': volts(0.144),
            'capacitor_herm.capacitance': microfarads(43.21),
            'transformer_primary.voltage': volts(0.2),
            'transformer_secondary.voltage': volts(0.04),
            'control_supply.voltage': volts(0.03),
            'thermostat_supply.voltage': volts(0.03),
            'thermostat_cooling_out.voltage': volts(0.02),
            'board_cooling_call.voltage': volts(0.02),
            'board_fan_call.voltage': volts(0.02),
            'outdoor_cooling_call.voltage': volts(0.02),
            'contactor_coil.voltage': volts(0.02),
            'blower_supply.voltage': volts(0.2),
          },
          without: [
            'transformer_secondary.current',
            'blower_lead.current',
            'supply_air.temperature',
            'return_static.static_pressure',
            'supply_static.static_pressure',
            'filter_drop.static_pressure',
            'indoor_coil_drop.static_pressure',
          ],
        },
      },
    }),
  },
  {
    name: 'the breaker that grew weak beside a weak fan capacitor',
    complaint: 'It runs half an hour, then the breaker goes. Third time this week.',
    call: 'no_cooling',
    truth: 'weak_breaker',
    onMachine: 'outdoor',
    provable: true,
    twist: 'two_weak',
    story:
      'The old breaker gets hot and trips at a load well below its marking; it drops over a volt. The fan section of the capacitor has aged out of tolerance but the fan keeps its speed.',
    sheet: changeSheet(oldSplit, outdoorWithoutPower(oldSplitSides), {
      machines: {
        outdoor: {
          seen: {
            breaker_found_tripped: 'yes',
            breaker_trips_again: 'yes',
            breaker_holds_under_load: 'no',
            breaker_hot_or_buzzing: 'yes',
            breaker_trip_cause_looked_for: 'yes',
            compressor_starts_with_test_start_device: 'yes',
          },
          read: {
            'disconnect_line_side.voltage': volts(0.3),
            // With the breaker reset, until it trips again after some twenty minutes.
            'breaker.voltage': volts(1.31),
            'compressor_common.current': amps(11.08),
            'outdoor_fan_lead.current': amps(0.76),
            'contactor_pole_1.voltage': volts(0.174),
            'contactor_pole_2.voltage': volts(0.152),
            'capacitor_fan.capacitance': microfarads(4.59),
          },
        },
      },
    }),
  },
  {
    name: 'the disconnect that the painter pulled',
    complaint: 'They painted the back wall this week and now we have no cold air.',
    call: 'no_cooling',
    truth: 'open_disconnect',
    onMachine: 'outdoor',
    provable: true,
    twist: 'plain',
    story:
      'The painter pulled the disconnect to work beside the unit and put it back the wrong way round. Its line side has full voltage and the machine is sound.',
    sheet: changeSheet(splitFurnace, outdoorWithoutPower(splitFurnaceSides), {
      machines: {
        outdoor: {
          seen: { disconnect_found_open: 'yes', disconnect_cause_looked_for: 'yes' },
          read: { 'disconnect_line_side.voltage': volts(239.4) },
        },
      },
    }),
  },
  {
    name: 'the burnt lug in the disconnect',
    complaint:
      'Cools badly in the afternoon and there is a smell of plastic at the little grey box.',
    call: 'poor_cooling',
    truth: 'burnt_line_connection',
    onMachine: 'outdoor',
    provable: true,
    twist: 'misleading',
    story:
      'A loose lug has burnt and drops eight volts under load, so that the unit sees a low voltage that the supply does not have. The filter is a bit dirty and means nothing.',
    sheet: changeSheet(heatPump, {
      machines: {
        air_handler: {
          seen: { filter_dirty: 'yes' },
          read: {
            'filter_drop.static_pressure': inWc(0.14),
            'return_air.temperature': airDegF(79.4),
            'supply_air.temperature': airDegF(61.2),
          },
        },
        outdoor: {
          seen: { line_connection_burnt: 'yes', compressor_stops_on_overload: 'yes' },
          read: {
            'line_supply.voltage': volts(229.7),
            'line_connection.voltage': volts(8.24),
            'compressor_common.current': amps(9.83),
            'capacitor_herm.current': amps(4.61),
            'capacitor_herm.voltage': volts(352.4),
            'compressor_shell.temperature': pipeDegF(147.6),
            'outdoor_fan_supply.voltage': volts(229.3),
          },
        },
      },
    }),
  },
  {
    name: 'the supply that may be too low',
    complaint: 'Lights go dim when it starts, and on the hottest days it gives up.',
    call: 'poor_cooling',
    truth: 'low_supply_voltage',
    onMachine: 'outdoor',
    provable: false,
    twist: 'at_limit',
    story:
      'The long rural line sags to the lowest voltage of the plate on hot afternoons. At the hour of the visit the meter stands within its own uncertainty of that limit.',
    sheet: changeSheet(oldSplit, {
      machines: {
        outdoor: {
          seen: { compressor_stops_on_overload: 'yes' },
          read: {
            'line_supply.voltage': volts(196.2),
            'disconnect_line_side.voltage': volts(196.7),
            'outdoor_fan_supply.voltage': volts(195.8),
            'compressor_common.current': amps(12.31),
            'capacitor_herm.current': amps(3.87),
            'capacitor_herm.voltage': volts(299.8),
            'compressor_shell.temperature': pipeDegF(171.9),
            'liquid_port.gauge_pressure': dialPsig(280),
            'outdoor_cooling_call.voltage': volts(22.31),
            'contactor_coil.voltage': volts(22.26),
          },
        },
        furnace: {
          read: {
            'line_supply.voltage': volts(107.4),
            'disconnect_line_side.voltage': volts(107.8),
            'transformer_primary.voltage': volts(107.1),
            'transformer_secondary.voltage': volts(23.06),
            'control_supply.voltage': volts(22.98),
            'thermostat_supply.voltage': volts(22.81),
            'thermostat_cooling_out.voltage': volts(22.68),
            'board_cooling_call.voltage': volts(22.63),
            'board_fan_call.voltage': volts(22.66),
            'blower_supply.voltage': volts(106.6),
          },
        },
      },
    }),
  },
];
