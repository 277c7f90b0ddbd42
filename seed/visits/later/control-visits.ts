import { changeSheet } from '../change-sheet.ts';
import { amps, inWc, microfarads, ohms, pipeDegF, volts } from '../measured-by.ts';
import {
  allStill,
  heatPumpSides,
  outdoorStill,
  splitAirHandlerSides,
  splitFurnaceSides,
} from '../states.ts';
import { heatPump, splitAirHandler, splitFurnace } from '../systems.ts';
import type { Visit } from '../visit.ts';

/** Calls whose cause lies on the 24 V side, or is water that opened it. */
export const laterControlVisits: Visit[] = [
  {
    name: 'the transformer that had to feed too much',
    complaint:
      'Since they put in the air cleaner and the dampers it buzzes outside and sits there.',
    call: 'no_cooling',
    truth: 'overloaded_transformer',
    onMachine: 'furnace',
    provable: true,
    twist: 'misleading',
    story:
      'Dampers and an air cleaner were hung on the 40 VA of the furnace. With a call it gives 49 VA and sags below 17 V, at which the contactor buzzes and does not pull in. Primary, cable and coil are sound.',
    sheet: changeSheet(splitFurnace, outdoorStill(splitFurnaceSides), {
      machines: {
        furnace: {
          read: {
            'transformer_primary.voltage': volts(119.8),
            'transformer_secondary.voltage': volts(16.94),
            'transformer_secondary.current': amps(2.88),
            'control_supply.voltage': volts(16.83),
            'thermostat_supply.voltage': volts(16.61),
            'thermostat_cooling_out.voltage': volts(16.44),
            'board_cooling_call.voltage': volts(16.38),
            'board_fan_call.voltage': volts(16.42),
          },
        },
        coil: {
          read: {
            'float_switch_in.voltage': volts(16.33),
            'float_switch_out.voltage': volts(16.29),
          },
        },
        outdoor: {
          seen: { contactor_contacts_pitted: 'yes' },
          read: {
            // An open armature draws more than a closed one, and the cable drops half a volt.
            'outdoor_cooling_call.voltage': volts(15.74),
            'high_pressure_switch.voltage': volts(0.017),
            'contactor_coil.voltage': volts(15.66),
          },
        },
      },
    }),
  },
  {
    name: 'the outdoor board that passes nothing on',
    complaint: 'Inside it blows, outside there is a green light and nothing moves.',
    call: 'no_cooling',
    truth: 'failed_outdoor_board',
    onMachine: 'outdoor',
    provable: true,
    twist: 'misleading',
    story:
      'The call arrives at the outdoor board and its delay has long run out, but the output to the contactor stays dead. Sensors, pressure switch and coil are sound. The capacitor is 4 % low and no part of it.',
    sheet: changeSheet(heatPump, outdoorStill(heatPumpSides), {
      machines: {
        outdoor: {
          read: {
            'outdoor_cooling_call.voltage': volts(25.94),
            'outdoor_board_out.voltage': volts(0.06),
            'contactor_coil.voltage': volts(0.05),
            'high_pressure_switch.voltage': volts(0.003),
            'reversing_valve_coil.voltage': volts(25.83),
            'capacitor_herm.capacitance': microfarads(33.56),
            'coil_sensor.temperature': pipeDegF(96.6),
            'coil_sensor.resistance': ohms(6_240),
          },
        },
      },
    }),
  },
  {
    name: 'the red button under the tarp',
    complaint: 'The roofers were here all week. Air comes out, but it is as warm as the room.',
    call: 'no_cooling',
    truth: 'open_high_pressure_switch',
    onMachine: 'outdoor',
    provable: true,
    twist: 'misleading',
    story:
      'The roofers laid a tarp over the running unit and its high-pressure switch opened, as it should, and waits to be pushed in. The tarp is gone; coil, fan and charge were looked at and are sound. The filter is gray with dust.',
    sheet: changeSheet(splitAirHandler, outdoorStill(splitAirHandlerSides), {
      machines: {
        air_handler: {
          seen: { filter_dirty: 'yes' },
          read: {
            'filter_drop.static_pressure': inWc(0.19),
            'return_static.static_pressure': inWc(-0.3),
          },
        },
        outdoor: {
          seen: { high_pressure_switch_open: 'yes', pressure_trip_cause_looked_for: 'yes' },
          read: {
            'outdoor_cooling_call.voltage': volts(26.31),
            'high_pressure_switch.voltage': volts(26.27),
            'contactor_coil.voltage': volts(0.04),
          },
        },
      },
    }),
  },
  {
    name: 'the float switch that is open in a dry pan',
    complaint:
      'Blank screen, nothing runs. They cleaned the drain two weeks ago, it cannot be that.',
    call: 'no_cooling',
    truth: 'failed_float_switch',
    onMachine: 'air_handler',
    provable: false,
    twist: 'misleading',
    story:
      'The pan is dry, the drain flows, the float is down and free, and yet R ends at the switch: its contact has broken inside. All points at the switch, but whether a switch is bad or merely did its work stays a judgement until another one holds.',
    sheet: changeSheet(splitAirHandler, allStill(splitAirHandlerSides), {
      house: { thermostat_screen_blank: 'yes', thermostat_calling_cooling: 'no' },
      houseWithout: ['thermostat_set_wrong'],
      machines: {
        air_handler: {
          seen: {
            drain_pan_dry: 'yes',
            drain_flows_when_tested: 'yes',
            float_switch_raised: 'no',
            float_switch_moves_freely: 'yes',
            float_trip_cause_looked_for: 'yes',
          },
          read: {
            'float_switch_in.voltage': volts(27.08),
            'float_switch_out.voltage': volts(0.07),
            'thermostat_supply.voltage': volts(0.06),
            'thermostat_cooling_out.voltage': volts(0.02),
            'board_cooling_call.voltage': volts(0.02),
            'board_fan_call.voltage': volts(0.02),
            'transformer_secondary.current': amps(0.13),
          },
        },
      },
    }),
  },
  {
    name: 'the slime in the hose of the pump',
    complaint: 'The pump in the basement runs and runs, there is water, and the air got warm.',
    call: 'no_cooling',
    truth: 'plugged_drain',
    onMachine: 'air_handler',
    provable: true,
    twist: 'misleading',
    story:
      'The pump runs when its tank is filled, but its hose is plugged with slime: the water comes back, pan and tank stand full, and the float opens the cooling call. It looks like the pump.',
    sheet: changeSheet(heatPump, outdoorStill(heatPumpSides), {
      machines: {
        air_handler: {
          seen: {
            filter_dirty: 'yes',
            drain_pan_full: 'yes',
            drain_flows_when_tested: 'no',
            drain_blockage_drawn_out: 'yes',
            condensate_pump_runs_when_filled: 'yes',
            float_switch_raised: 'yes',
            float_trip_cause_looked_for: 'yes',
          },
          read: {
            'float_switch_out.voltage': volts(0.05),
            'condensate_pump_supply.voltage': volts(118.7),
            'filter_drop.static_pressure': inWc(0.15),
            'return_static.static_pressure': inWc(-0.26),
          },
        },
        outdoor: {
          read: {
            'coil_sensor.temperature': pipeDegF(97.6),
            'coil_sensor.resistance': ohms(6_130),
          },
        },
      },
    }),
  },
];
