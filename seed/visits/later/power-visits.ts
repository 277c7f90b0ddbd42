import { changeSheet, type SheetChange } from '../change-sheet.ts';
import { microfarads, ohms, pipeDegF, volts } from '../measured-by.ts';
import { allStill, heatPumpSides, outdoorWithoutPower, packageUnitSides } from '../states.ts';
import { heatPump, packageUnit } from '../systems.ts';
import type { Visit } from '../visit.ts';
import type { MachineId } from '../visit-sheet.ts';

/** The machine that feeds the controls has no line voltage, and so nothing has its 24 V either. */
function withoutLineVoltage(indoor: MachineId): SheetChange {
  return {
    machines: {
      [indoor]: {
        seen: { blower_called_and_fed: 'no' },
        read: {
          'line_supply.voltage': volts(0.4),
          'transformer_primary.voltage': volts(0.3),
          'transformer_secondary.voltage': volts(0.03),
          'control_supply.voltage': volts(0.03),
          'thermostat_supply.voltage': volts(0.02),
          'thermostat_cooling_out.voltage': volts(0.02),
          'board_cooling_call.voltage': volts(0.02),
          'board_fan_call.voltage': volts(0.02),
          'blower_supply.voltage': volts(0.3),
        },
        without: ['transformer_secondary.current', 'line_connection.voltage'],
      },
    },
  };
}

/** Calls whose cause lies between the panel and the machine. */
export const laterPowerVisits: Visit[] = [
  {
    name: 'the breaker that went while the oven was wired',
    complaint: 'The little screen in the hall has been dark since yesterday, and nothing runs.',
    call: 'no_cooling',
    truth: 'tripped_breaker',
    onMachine: 'air_handler',
    provable: true,
    twist: 'misleading',
    story:
      'While the wires of a new oven were pulled into the panel, the breaker of the air handler tripped. With it went the 24 V of the whole system: the thermostat is blank and the outdoor unit silent, though its own breaker is on. Reset once, it holds.',
    sheet: changeSheet(heatPump, allStill(heatPumpSides), withoutLineVoltage('air_handler'), {
      house: { thermostat_screen_blank: 'yes', thermostat_calling_cooling: 'no' },
      houseWithout: ['thermostat_set_wrong'],
      machines: {
        air_handler: {
          seen: {
            breaker_found_tripped: 'yes',
            breaker_trips_again: 'no',
            breaker_holds_under_load: 'yes',
            breaker_trip_cause_looked_for: 'yes',
          },
          read: {
            'disconnect_line_side.voltage': volts(0.4),
            'float_switch_in.voltage': volts(0.02),
            'float_switch_out.voltage': volts(0.02),
          },
          without: ['blower_module_test_runs_motor'],
        },
        outdoor: {
          seen: { outdoor_coil_dirty: 'yes' },
          read: {
            'coil_sensor.temperature': pipeDegF(97.1),
            'coil_sensor.resistance': ohms(6_190),
          },
        },
      },
    }),
  },
  {
    name: 'the fuse in the box on the hot roof',
    complaint: 'Not a sound from the roof, not even the fan in the hall. It was fine at breakfast.',
    call: 'no_cooling',
    truth: 'open_disconnect_fuse',
    onMachine: 'package',
    provable: true,
    twist: 'misleading',
    story:
      'One of the two fuses in the disconnect, as old as the machine and in the sun all day, has opened: both legs arrive, one leaves. Its breaker is on. Windings, cable and clips are sound; the contactor is pitted and the blower capacitor 4 % low, and neither opens a fuse.',
    sheet: changeSheet(
      packageUnit,
      outdoorWithoutPower(packageUnitSides),
      withoutLineVoltage('package'),
      {
        house: { indoor_fan_running: 'no' },
        houseWithout: ['blows_warm_in_cooling'],
        machines: {
          package: {
            seen: {
              disconnect_fuse_reads_open: 'yes',
              disconnect_fuse_cause_looked_for: 'yes',
              contactor_pulled_in: 'no',
              contactor_contacts_pitted: 'yes',
            },
            read: {
              'disconnect_line_side.voltage': volts(235.9),
              'disconnect_fuse_1.voltage': volts(0.004),
              // The primary of the transformer still bridges the legs behind the open fuse.
              'disconnect_fuse_2.voltage': volts(235.6),
              'outdoor_cooling_call.voltage': volts(0.02),
              'contactor_coil.voltage': volts(0.02),
              'capacitor_blower.capacitance': microfarads(9.58),
            },
            without: [
              'blower_lead.current',
              'supply_air.temperature',
              'return_static.static_pressure',
              'supply_static.static_pressure',
              'filter_drop.static_pressure',
              'indoor_coil_drop.static_pressure',
            ],
          },
        },
      },
    ),
  },
];
