import { changeSheet } from './change-sheet.ts';
import {
  airDegF,
  amps,
  dialPsig,
  inWc,
  microfarads,
  ohms,
  ounces,
  pipeDegF,
  psig,
  volts,
} from './measured-by.ts';
import { heatPump, oldSplit, packageUnit, splitAirHandler, splitFurnace } from './systems.ts';
import type { Visit } from './visit.ts';

/** Calls whose cause is air that does not move or refrigerant that does not. */
export const circuitVisits: Visit[] = [
  {
    name: 'the filter that nobody changed',
    complaint: 'Hardly any air from the vents and it never gets below 79.',
    call: 'poor_cooling',
    truth: 'dirty_filter',
    onMachine: 'air_handler',
    provable: true,
    twist: 'plain',
    story:
      'The filter takes half of what the blower can give; little air passes, it gets very cold, and the coil is near freezing. Charge and ducts are right.',
    sheet: changeSheet(splitAirHandler, {
      machines: {
        air_handler: {
          seen: { filter_dirty: 'yes' },
          read: {
            'filter_drop.static_pressure': inWc(0.63),
            'return_static.static_pressure': inWc(-0.74),
            'supply_static.static_pressure': inWc(0.2),
            'indoor_coil_drop.static_pressure': inWc(0.12),
            'blower_lead.current': amps(4.41),
            'return_air.temperature': airDegF(79.3),
            'supply_air.temperature': airDegF(50.7),
          },
        },
        outdoor: {
          read: {
            // Suction 31 F and liquid 104 F at this height.
            'suction_port.gauge_pressure': psig(102.3),
            'liquid_port.gauge_pressure': psig(340.4),
            'suction_line.temperature': pipeDegF(37.4),
            'liquid_line.temperature': pipeDegF(92.6),
            'filter_drier_in.temperature': pipeDegF(92.2),
            'filter_drier_out.temperature': pipeDegF(91.9),
            'compressor_common.current': amps(12.31),
            'contactor_pole_1.voltage': volts(0.34),
          },
        },
      },
    }),
  },
  {
    name: 'the charge that may be a little low',
    complaint: 'It cools, but slower than last year.',
    call: 'poor_cooling',
    truth: 'low_charge',
    onMachine: 'outdoor',
    provable: false,
    twist: 'at_limit',
    story:
      'Some ounces went missing over the years, which brings the subcooling to the edge of what the charging method allows. Gauge and clamp together cannot tell on which side it lies.',
    sheet: changeSheet(splitFurnace, {
      machines: {
        outdoor: {
          read: {
            // Suction 40 F and liquid 112.7 F: superheat 14.8 F, subcooling 6.9 F of 10 F.
            'suction_port.gauge_pressure': psig(118.8),
            'liquid_port.gauge_pressure': psig(380.3),
            'suction_line.temperature': pipeDegF(55),
            'liquid_line.temperature': pipeDegF(105.8),
            'filter_drier_in.temperature': pipeDegF(105.5),
            'filter_drier_out.temperature': pipeDegF(105.1),
            'compressor_common.current': amps(11.14),
          },
          without: ['recovered_charge.mass'],
        },
        furnace: { read: { 'supply_air.temperature': airDegF(60.1) } },
      },
    }),
  },
  {
    name: 'the leak at the brazed joint',
    complaint: 'Less and less cold since spring; now the pipe ices up and the house is 82.',
    call: 'no_cooling',
    truth: 'refrigerant_leak',
    onMachine: 'outdoor',
    provable: true,
    twist: 'misleading',
    story:
      'Oil, detector and bubbles agree on one brazed joint, and more than a third of the charge is gone. The ice on the suction line looks like a lack of air.',
    sheet: changeSheet(heatPump, {
      machines: {
        air_handler: {
          seen: {
            ice_on_coil_or_line: 'yes',
            ice_melted_before_measuring: 'yes',
            ice_cause_looked_for: 'yes',
          },
          read: {
            'return_air.temperature': airDegF(81.8),
            'supply_air.temperature': airDegF(72.9),
          },
        },
        outdoor: {
          seen: {
            refrigerant_oil_seen: 'yes',
            leak_detector_alarms: 'yes',
            bubbles_at_leak: 'yes',
          },
          read: {
            // Suction 19.5 F (dew) and liquid 104 F (bubble).
            'suction_port.gauge_pressure': psig(69.6),
            'liquid_port.gauge_pressure': psig(320.5),
            'suction_line.temperature': pipeDegF(55.9),
            'liquid_line.temperature': pipeDegF(103.2),
            'reversing_valve_suction_in.temperature': pipeDegF(55.2),
            'reversing_valve_suction_out.temperature': pipeDegF(57.4),
            'filter_drier_in.temperature': pipeDegF(102.9),
            'filter_drier_out.temperature': pipeDegF(102.4),
            'compressor_common.current': amps(6.71),
            'compressor_shell.temperature': pipeDegF(171.4),
            'coil_sensor.temperature': pipeDegF(103.4),
            'coil_sensor.resistance': ohms(5_330),
            'recovered_charge.mass': ounces(66.8),
          },
        },
      },
    }),
  },
  {
    name: 'the matted outdoor coil beside a contactor past its best',
    complaint: 'It quits every afternoon and comes back by itself in the evening.',
    call: 'no_cooling',
    truth: 'dirty_outdoor_coil',
    onMachine: 'package',
    provable: true,
    twist: 'two_weak',
    story:
      'Cottonwood mats the coil and the head goes to 145 F on a 102 F day; rinsed, it falls. One pole of the contactor drops nearly a volt, worth watching but not what stops it.',
    sheet: changeSheet(packageUnit, {
      machines: {
        package: {
          seen: {
            outdoor_coil_dirty: 'yes',
            outdoor_coil_cleared_pressure_fell: 'yes',
            compressor_stops_on_overload: 'yes',
            contactor_contacts_pitted: 'yes',
          },
          read: {
            // Suction 54 F and liquid 145 F by the saturation table.
            'suction_port.gauge_pressure': psig(153.8),
            'liquid_port.gauge_pressure': psig(577.4),
            'suction_line.temperature': pipeDegF(57.6),
            'liquid_line.temperature': pipeDegF(139.2),
            'compressor_common.current': amps(20.83),
            'compressor_shell.temperature': pipeDegF(189.6),
            'contactor_pole_1.voltage': volts(0.87),
            'supply_air.temperature': airDegF(65.8),
            'return_air.temperature': airDegF(80.9),
            'capacitor_herm.capacitance': microfarads(43.74),
          },
        },
      },
    }),
  },
  {
    name: 'the filter drier that frosts',
    complaint: 'Last month another firm added gas, it helped for a day.',
    call: 'no_cooling',
    truth: 'liquid_line_restriction',
    onMachine: 'outdoor',
    provable: true,
    twist: 'misleading',
    story:
      'The drier is plugged: the liquid leaves it 13 F colder than it came. Suction is low and superheat high as if the charge were short, but the subcooling is too high.',
    sheet: changeSheet(splitAirHandler, {
      machines: {
        air_handler: {
          seen: { ice_on_coil_or_line: 'no' },
          read: {
            'return_air.temperature': airDegF(80.7),
            'supply_air.temperature': airDegF(71.4),
          },
        },
        outdoor: {
          read: {
            // Suction 24.5 F and liquid 104.6 F at this height: superheat 31 F, subcooling 18 F.
            'suction_port.gauge_pressure': psig(88.6),
            'liquid_port.gauge_pressure': psig(342.1),
            'suction_line.temperature': pipeDegF(55.8),
            'liquid_line.temperature': pipeDegF(86.4),
            'filter_drier_in.temperature': pipeDegF(86.1),
            'filter_drier_out.temperature': pipeDegF(73.2),
            'compressor_common.current': amps(9.74),
            'compressor_shell.temperature': pipeDegF(168.8),
            'recovered_charge.mass': ounces(158.3),
          },
        },
      },
    }),
  },
  {
    name: 'the compressor that no longer pumps',
    complaint: 'Everything runs and runs, the air is barely cool.',
    call: 'no_cooling',
    truth: 'compressor_weak_valves',
    onMachine: 'outdoor',
    provable: true,
    twist: 'misleading',
    story:
      'Suction is high, head is low and the amps are little more than half of the plate: the valves leak. The coil outside is a bit dirty, which would raise the head and not lower it.',
    sheet: changeSheet(oldSplit, {
      machines: {
        furnace: {
          read: {
            'return_air.temperature': airDegF(82.9),
            'supply_air.temperature': airDegF(76.4),
          },
        },
        outdoor: {
          seen: { outdoor_coil_dirty: 'yes' },
          read: {
            // Suction 60.5 F and liquid 110 F by the saturation table.
            'suction_port.gauge_pressure': dialPsig(103),
            'liquid_port.gauge_pressure': dialPsig(227.5),
            'suction_line.temperature': pipeDegF(64.9),
            'liquid_line.temperature': pipeDegF(99.6),
            'compressor_common.current': amps(6.87),
            'compressor_shell.temperature': pipeDegF(178.3),
          },
        },
      },
    }),
  },
  {
    name: 'the reversing valve that stays in heating',
    complaint: 'It blows hot air. In this weather!',
    call: 'no_cooling',
    truth: 'failed_reversing_valve_coil',
    onMachine: 'outdoor',
    provable: true,
    twist: 'plain',
    story:
      'In cooling the coil of the reversing valve has its 26 V and is open, so that the valve rests in heating. The house is the condenser now.',
    sheet: changeSheet(heatPump, {
      house: { blows_warm_in_cooling: 'yes' },
      machines: {
        air_handler: {
          seen: { drain_pan_dry: 'yes' },
          read: {
            'return_air.temperature': airDegF(83.4),
            'supply_air.temperature': airDegF(107.2),
          },
        },
        outdoor: {
          seen: { reversing_valve_shifts: 'no', reversing_valve_coil_reads_open: 'yes' },
          read: {
            // The wide line carries hot gas in heating, and so does its port.
            'suction_port.gauge_pressure': psig(388.6),
            'liquid_port.gauge_pressure': psig(377.9),
            'suction_line.temperature': pipeDegF(168.2),
            'liquid_line.temperature': pipeDegF(105.3),
            'reversing_valve_suction_in.temperature': pipeDegF(77.2),
            'reversing_valve_suction_out.temperature': pipeDegF(79.1),
            'compressor_common.current': amps(10.46),
            'coil_sensor.temperature': pipeDegF(66.8),
            'coil_sensor.resistance': ohms(12_880),
            'reversing_valve_coil.voltage': volts(26.07),
          },
          without: [
            'reversing_valve_coil.resistance',
            'filter_drier_in.temperature',
            'filter_drier_out.temperature',
          ],
        },
      },
    }),
  },
];
