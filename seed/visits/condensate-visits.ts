import { changeSheet } from './change-sheet.ts';
import { amps, inWc, ohms, pipeDegF, volts } from './measured-by.ts';
import {
  allStill,
  heatPumpSides,
  outdoorStill,
  splitAirHandlerSides,
  splitFurnaceSides,
} from './states.ts';
import { heatPump, splitAirHandler, splitFurnace } from './systems.ts';
import type { Visit } from './visit.ts';
import type { Read } from './visit-sheet.ts';

/** The float of the air handler breaks R: the thermostat and every call behind it are dead. */
const brokenR: Read = {
  'float_switch_in.voltage': volts(27.02),
  'float_switch_out.voltage': volts(0.04),
  'thermostat_supply.voltage': volts(0.03),
  'thermostat_cooling_out.voltage': volts(0.02),
  'board_cooling_call.voltage': volts(0.02),
  'board_fan_call.voltage': volts(0.02),
  'transformer_secondary.current': amps(0.12),
};

/** Calls whose cause is water, or the switch that watches it. */
export const condensateVisits: Visit[] = [
  {
    name: 'the drain that made the screen go blank',
    complaint: 'The thermostat is blank and nothing runs. Batteries? I cannot find any.',
    call: 'no_cooling',
    truth: 'plugged_drain',
    onMachine: 'air_handler',
    provable: true,
    twist: 'misleading',
    story:
      'Slime plugs the drain, the pan is full, and the float breaks the 24 V of the thermostat. The blank screen looks like a thermostat without power of its own.',
    sheet: changeSheet(splitAirHandler, allStill(splitAirHandlerSides), {
      house: { thermostat_screen_blank: 'yes', thermostat_calling_cooling: 'no' },
      houseWithout: ['thermostat_set_wrong'],
      machines: {
        air_handler: {
          seen: {
            drain_pan_full: 'yes',
            drain_flows_when_tested: 'no',
            drain_blockage_drawn_out: 'yes',
            float_switch_raised: 'yes',
            float_trip_cause_looked_for: 'yes',
          },
          read: brokenR,
        },
      },
    }),
  },
  {
    name: 'the drain behind a gray filter',
    complaint: 'The fan runs all day but the air is warm. There was water in the closet.',
    call: 'no_cooling',
    truth: 'plugged_drain',
    onMachine: 'coil',
    provable: true,
    twist: 'misleading',
    story:
      'The drain is plugged and the raised float breaks the cooling call on its way out. The filter is gray and the contactor a bit pitted, neither of which keeps the call from arriving.',
    sheet: changeSheet(splitFurnace, outdoorStill(splitFurnaceSides), {
      machines: {
        furnace: {
          seen: { filter_dirty: 'yes' },
          read: {
            'filter_drop.static_pressure': inWc(0.16),
            'return_static.static_pressure': inWc(-0.24),
          },
        },
        coil: {
          seen: {
            drain_pan_full: 'yes',
            drain_flows_when_tested: 'no',
            drain_blockage_drawn_out: 'yes',
            float_switch_raised: 'yes',
            float_trip_cause_looked_for: 'yes',
          },
          read: { 'float_switch_out.voltage': volts(0.05) },
        },
        outdoor: { seen: { contactor_contacts_pitted: 'yes' } },
      },
    }),
  },
  {
    name: 'the condensate pump that stands still',
    complaint: 'Puddle in the basement and no cold air upstairs.',
    call: 'no_cooling',
    truth: 'failed_condensate_pump',
    onMachine: 'air_handler',
    provable: true,
    twist: 'plain',
    story:
      'The pump has its 120 V and does not run when its tank is filled, so its float opens the cooling call. The drain as far as the tank flows freely.',
    sheet: changeSheet(heatPump, outdoorStill(heatPumpSides), {
      machines: {
        air_handler: {
          seen: {
            condensate_pump_runs_when_filled: 'no',
            drain_pan_full: 'yes',
            float_switch_raised: 'yes',
            float_trip_cause_looked_for: 'yes',
          },
          read: { 'float_switch_out.voltage': volts(0.04) },
        },
        outdoor: {
          read: {
            'coil_sensor.temperature': pipeDegF(97.2),
            'coil_sensor.resistance': ohms(6_190),
          },
        },
      },
    }),
  },
  {
    name: 'the float that hung after the pan was emptied',
    complaint: 'I sucked the drain out myself yesterday, water gone, still no cooling.',
    call: 'no_cooling',
    truth: 'open_float_switch',
    onMachine: 'coil',
    provable: true,
    twist: 'misleading',
    story:
      'The owner cleared the drain, and it flows; the float merely hung on its stem at the top. Lifted and let go it moves freely and closes.',
    sheet: changeSheet(splitFurnace, outdoorStill(splitFurnaceSides), {
      machines: {
        coil: {
          seen: {
            drain_pan_dry: 'yes',
            float_switch_raised: 'yes',
            float_switch_moves_freely: 'yes',
            float_trip_cause_looked_for: 'yes',
          },
          read: { 'float_switch_out.voltage': volts(0.06) },
        },
      },
    }),
  },
];
