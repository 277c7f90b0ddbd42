import { changeSheet } from './change-sheet.ts';
import { airDegF, amps, ohms, pipeDegF, psig, volts, wetBulbDegF } from './measured-by.ts';
import { oldSplitSides, outdoorStill } from './states.ts';
import { miniSplit, oldSplit, splitFurnace } from './systems.ts';
import type { Visit } from './visit.ts';

/** Calls whose cause is none of the truths: an honest answer proves nothing. */
export const otherVisits: Visit[] = [
  {
    name: 'the day that was hotter than the house was built for',
    complaint: 'It runs without a break since ten and we are stuck at 79.',
    call: 'poor_cooling',
    truth: 'something_else',
    onMachine: 'outdoor',
    provable: false,
    twist: 'misleading',
    story:
      'At 105 F the machine gives all it was made to give, and the west windows bring in more. Every figure is where it belongs for such a day; the filter is a bit dirty.',
    sheet: changeSheet(splitFurnace, {
      machines: {
        furnace: {
          seen: { filter_dirty: 'yes' },
          read: {
            'return_air.temperature': airDegF(79.3),
            'return_air.wet_bulb_temperature': wetBulbDegF(65.4),
            'supply_air.temperature': airDegF(61.2),
          },
        },
        outdoor: {
          read: {
            // Suction 46.5 F and liquid 124 F by the saturation table.
            'suction_port.gauge_pressure': psig(133.4),
            'liquid_port.gauge_pressure': psig(442.7),
            'suction_line.temperature': pipeDegF(57.2),
            'liquid_line.temperature': pipeDegF(114.4),
            'filter_drier_in.temperature': pipeDegF(114.1),
            'filter_drier_out.temperature': pipeDegF(113.7),
            'outdoor_air.temperature': airDegF(105.2),
            'condenser_air_in.temperature': airDegF(105.9),
            'compressor_common.current': amps(12.96),
            'compressor_shell.temperature': pipeDegF(153.7),
          },
        },
      },
    }),
  },
  {
    name: 'the delay timer that never lets go',
    complaint: 'Fan inside runs, outside nothing moves.',
    call: 'no_cooling',
    truth: 'something_else',
    onMachine: 'outdoor',
    provable: false,
    twist: 'misleading',
    story:
      'An add-on timer in the old unit, of which no list knows, sits between the arriving call and the coil of the contactor and has failed. The call arrives, the coil is sound and gets nothing.',
    sheet: changeSheet(oldSplit, outdoorStill(oldSplitSides), {
      machines: {
        outdoor: {
          seen: { contactor_contacts_pitted: 'yes' },
          read: {
            'outdoor_cooling_call.voltage': volts(25.02),
            'contactor_coil.voltage': volts(0.07),
          },
        },
      },
    }),
  },
  {
    name: 'the mini split whose halves do not talk',
    complaint: 'The indoor part blows but the outdoor part is dead, and a light blinks.',
    call: 'no_cooling',
    truth: 'something_else',
    onMachine: 'mini_split',
    provable: false,
    twist: 'plain',
    story:
      'A splice in the cable between the two halves has corroded and the data does not pass, though the power does. Sensors, motors and circuit are sound.',
    sheet: changeSheet(miniSplit, {
      house: { thermostat_starts_when_set: 'no' },
      machines: {
        mini_split: {
          seen: { compressor_running: 'no', outdoor_fan_running: 'no' },
          read: {
            'coil_sensor.temperature': pipeDegF(81.2),
            'coil_sensor.resistance': ohms(9_060),
            'air_sensor.temperature': airDegF(82.1),
            'air_sensor.resistance': ohms(8_830),
            'return_air.temperature': airDegF(82.2),
            'supply_air.temperature': airDegF(82.4),
            'suction_port.gauge_pressure': psig(263.1),
            'suction_line.temperature': pipeDegF(86.7),
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
