import { changeSheet } from '../change-sheet.ts';
import {
  airDegF,
  amps,
  inWc,
  microfarads,
  ohms,
  ounces,
  pipeDegF,
  psig,
  volts,
  wetBulbDegF,
} from '../measured-by.ts';
import { heatPump, miniSplit, packageUnit, splitAirHandler, splitFurnace } from '../systems.ts';
import type { Visit } from '../visit.ts';

/** Calls whose cause is air or refrigerant, and one that no list knows. */
export const laterCircuitVisits: Visit[] = [
  {
    name: 'the charge that went in small sips',
    complaint: 'Every summer a bit weaker, and this year it cannot get below 82 at all.',
    call: 'no_cooling',
    truth: 'low_charge',
    onMachine: 'package',
    provable: true,
    twist: 'plain',
    story:
      'Over the years a third of the charge has gone; a search found no place. Suction and head are low, superheat is far too high, hardly any subcooling is left, and the scale agrees.',
    sheet: changeSheet(packageUnit, {
      machines: {
        package: {
          seen: { contactor_contacts_pitted: 'yes', refrigerant_leak_looked_for: 'yes' },
          read: {
            // Suction 27 F and liquid 109 F by the saturation table.
            'suction_port.gauge_pressure': psig(91.2),
            'liquid_port.gauge_pressure': psig(361.6),
            'suction_line.temperature': pipeDegF(60.3),
            'liquid_line.temperature': pipeDegF(107.2),
            'compressor_common.current': amps(12.34),
            'compressor_shell.temperature': pipeDegF(181.7),
            'return_air.temperature': airDegF(82.4),
            'return_air.wet_bulb_temperature': wetBulbDegF(68.3),
            'supply_air.temperature': airDegF(71.6),
            'recovered_charge.mass': ounces(82.6),
          },
        },
      },
    }),
  },
  {
    name: 'the outdoor coil beside the dryer vent',
    complaint: 'It cools until noon, then the outside part stops and starts all afternoon.',
    call: 'poor_cooling',
    truth: 'dirty_outdoor_coil',
    onMachine: 'outdoor',
    provable: true,
    twist: 'misleading',
    story:
      'Lint from the dryer vent has felted the coil between its rows. The head stands at 141 F on a 97 F day and falls once the coil is rinsed. Fan and capacitor are sound; the filter indoors is dirty too.',
    sheet: changeSheet(splitFurnace, {
      machines: {
        furnace: {
          seen: { filter_dirty: 'yes' },
          read: {
            'return_air.temperature': airDegF(80.6),
            'return_air.wet_bulb_temperature': wetBulbDegF(66.4),
            'supply_air.temperature': airDegF(64.2),
            'filter_drop.static_pressure': inWc(0.15),
            'return_static.static_pressure': inWc(-0.23),
          },
        },
        outdoor: {
          seen: {
            outdoor_coil_dirty: 'yes',
            outdoor_coil_cleared_pressure_fell: 'yes',
            compressor_stops_on_overload: 'yes',
            overload_cause_looked_for: 'yes',
          },
          read: {
            // Suction 50 F and liquid 141 F by the saturation table.
            'suction_port.gauge_pressure': psig(142.7),
            'liquid_port.gauge_pressure': psig(549.6),
            'suction_line.temperature': pipeDegF(58.3),
            'liquid_line.temperature': pipeDegF(132.1),
            'filter_drier_in.temperature': pipeDegF(131.7),
            'filter_drier_out.temperature': pipeDegF(131.4),
            'condenser_air_in.temperature': airDegF(98.2),
            'outdoor_fan_lead.current': amps(0.99),
            'compressor_common.current': amps(15.87),
            'compressor_shell.temperature': pipeDegF(184.3),
          },
        },
      },
    }),
  },
  {
    name: 'the indoor coil that years of dog hair closed',
    complaint: 'Weak air upstairs, though I change the filter every month.',
    call: 'poor_cooling',
    truth: 'dirty_indoor_coil',
    onMachine: 'air_handler',
    provable: true,
    twist: 'misleading',
    story:
      'The house was once run without a filter, and the face of the coil is felted: it takes more than twice its pressure at three quarters of the air. Filter and wheel are clean; what air passes gets very cold.',
    sheet: changeSheet(heatPump, {
      machines: {
        air_handler: {
          seen: { indoor_coil_dirty: 'yes' },
          read: {
            'return_air.temperature': airDegF(79.6),
            'return_air.wet_bulb_temperature': wetBulbDegF(65.8),
            'supply_air.temperature': airDegF(52.3),
            'return_static.static_pressure': inWc(-0.12),
            'supply_static.static_pressure': inWc(0.16),
            'filter_drop.static_pressure': inWc(0.06),
            'indoor_coil_drop.static_pressure': inWc(0.49),
            'blower_lead.current': amps(2.53),
          },
        },
        outdoor: {
          read: {
            // Suction 34 F (dew) and liquid 108 F (bubble).
            'suction_port.gauge_pressure': psig(95.4),
            'liquid_port.gauge_pressure': psig(339.3),
            'suction_line.temperature': pipeDegF(41.4),
            'liquid_line.temperature': pipeDegF(98.8),
            'filter_drier_in.temperature': pipeDegF(98.6),
            'filter_drier_out.temperature': pipeDegF(98.3),
            'reversing_valve_suction_in.temperature': pipeDegF(41.1),
            'reversing_valve_suction_out.temperature': pipeDegF(43.2),
            'coil_sensor.temperature': pipeDegF(99.1),
            'coil_sensor.resistance': ohms(5_890),
            'compressor_common.current': amps(8.67),
            'compressor_shell.temperature': pipeDegF(123.4),
          },
        },
      },
    }),
  },
  {
    name: 'the caked wheel of the bedroom unit',
    complaint: 'It whispers where it used to blow, and black bits fly out.',
    call: 'poor_cooling',
    truth: 'dirty_blower_wheel',
    onMachine: 'mini_split',
    provable: true,
    twist: 'plain',
    story:
      'The blades of the wheel are caked flat with dust and mold, and little air passes, very cold. Filter and coil are clean, the charge weighs right.',
    sheet: changeSheet(miniSplit, {
      machines: {
        mini_split: {
          seen: { blower_wheel_dirty: 'yes' },
          read: {
            // Suction 35 F by the saturation table.
            'suction_port.gauge_pressure': psig(109.8),
            'suction_line.temperature': pipeDegF(39.8),
            'return_air.temperature': airDegF(80.7),
            'return_air.wet_bulb_temperature': wetBulbDegF(67.2),
            'supply_air.temperature': airDegF(47.6),
            'coil_sensor.temperature': pipeDegF(36.8),
            'coil_sensor.resistance': ohms(29_190),
            'air_sensor.temperature': airDegF(80.4),
            'air_sensor.resistance': ohms(9_180),
            'compressor_shell.temperature': pipeDegF(117.2),
            'outdoor_fan_lead.current': amps(0.27),
          },
        },
      },
    }),
  },
  {
    name: 'the two pounds that were one favor too many',
    complaint: 'A friend topped it up in June. It cools less now and quits in the heat.',
    call: 'poor_cooling',
    truth: 'overcharge',
    onMachine: 'outdoor',
    provable: true,
    twist: 'two_weak',
    story:
      'Two pounds too many back up in the coil: head and subcooling are far too high with a clean coil and a sound fan, and the scale agrees. The capacitor is 8 % low, out of its label, and the compressor starts on it every time.',
    sheet: changeSheet(splitFurnace, {
      machines: {
        furnace: {
          read: {
            'return_air.temperature': airDegF(79.2),
            'return_air.wet_bulb_temperature': wetBulbDegF(65.1),
            'supply_air.temperature': airDegF(61.4),
          },
        },
        outdoor: {
          seen: { compressor_stops_on_overload: 'yes', overload_cause_looked_for: 'yes' },
          read: {
            // Suction 47 F and liquid 128 F: superheat 6 F, subcooling 24 F of 10 F.
            'suction_port.gauge_pressure': psig(135.2),
            'liquid_port.gauge_pressure': psig(465.9),
            'suction_line.temperature': pipeDegF(53.2),
            'liquid_line.temperature': pipeDegF(104.3),
            'filter_drier_in.temperature': pipeDegF(104),
            'filter_drier_out.temperature': pipeDegF(103.7),
            'compressor_common.current': amps(13.74),
            'compressor_shell.temperature': pipeDegF(148.6),
            'capacitor_herm.capacitance': microfarads(36.91),
            'capacitor_herm.current': amps(5.02),
            'capacitor_herm.voltage': volts(360.4),
            'recovered_charge.mass': ounces(159.2),
          },
        },
      },
    }),
  },
  {
    name: 'the valve that lost the charge of its bulb',
    complaint: 'They filled it twice this year and it never got better. Barely cool.',
    call: 'no_cooling',
    truth: 'failed_metering_device',
    onMachine: 'air_handler',
    provable: true,
    twist: 'misleading',
    story:
      'The bulb of the expansion valve has lost its own charge and the valve stays nearly shut: warmed by hand the tight bulb changes nothing, and frost begins at the valve. It looks like a lack of refrigerant, but the subcooling is high, the drier drops nothing and the scale shows the right charge.',
    sheet: changeSheet(splitAirHandler, {
      machines: {
        air_handler: {
          seen: {
            metering_device_frosted: 'yes',
            sensing_bulb_loose: 'no',
            superheat_follows_bulb: 'no',
          },
          read: {
            'return_air.temperature': airDegF(80.9),
            'return_air.wet_bulb_temperature': wetBulbDegF(62.7),
            'supply_air.temperature': airDegF(70.4),
          },
        },
        outdoor: {
          read: {
            // Suction 20 F and liquid 104 F at this height: superheat 34 F, subcooling 16 F.
            'suction_port.gauge_pressure': psig(80.7),
            'liquid_port.gauge_pressure': psig(339.4),
            'suction_line.temperature': pipeDegF(54.2),
            'liquid_line.temperature': pipeDegF(87.9),
            'filter_drier_in.temperature': pipeDegF(87.6),
            'filter_drier_out.temperature': pipeDegF(87.1),
            'compressor_common.current': amps(9.61),
            'compressor_shell.temperature': pipeDegF(171.3),
            'recovered_charge.mass': ounces(153.6),
          },
        },
      },
    }),
  },
  {
    name: 'the heat strip that stayed on',
    complaint: 'The bill doubled and the air is only a little cool, though it blows like always.',
    call: 'no_cooling',
    truth: 'something_else',
    onMachine: 'air_handler',
    provable: false,
    twist: 'misleading',
    story:
      'A relay of the electric heat has welded, and 5 kW heat the air behind a coil that cools it as it should. Charge, airflow and both motors are right, and only the supply air is too warm; the filter is a bit dirty.',
    sheet: changeSheet(splitAirHandler, {
      machines: {
        air_handler: {
          seen: { filter_dirty: 'yes' },
          read: {
            // The coil takes out 22 F and the strip puts 13 F back at this height.
            'return_air.temperature': airDegF(80.7),
            'return_air.wet_bulb_temperature': wetBulbDegF(62.4),
            'supply_air.temperature': airDegF(71.9),
            'filter_drop.static_pressure': inWc(0.15),
            'return_static.static_pressure': inWc(-0.27),
          },
        },
        outdoor: {
          read: {
            // Suction 44.5 F and liquid 112 F at this height.
            'suction_port.gauge_pressure': psig(131.3),
            'liquid_port.gauge_pressure': psig(379.3),
            'suction_line.temperature': pipeDegF(54.9),
            'liquid_line.temperature': pipeDegF(102.7),
            'filter_drier_in.temperature': pipeDegF(102.4),
            'filter_drier_out.temperature': pipeDegF(102.1),
            'compressor_common.current': amps(13.61),
          },
        },
      },
    }),
  },
];
