import { changeSheet } from './change-sheet.ts';
import {
  airDegF,
  amps,
  dialPsig,
  groundOhms,
  inWc,
  microfarads,
  ohms,
  pipeDegF,
  psig,
  startAmps,
  volts,
} from './measured-by.ts';
import {
  compressorStill,
  oldSplitSides,
  outdoorWithoutPower,
  packageUnitSides,
  splitAirHandlerSides,
  splitFurnaceSides,
} from './states.ts';
import { oldSplit, packageUnit, splitAirHandler, splitFurnace } from './systems.ts';
import type { Visit } from './visit.ts';

/** Calls whose cause is a contactor, a capacitor, a motor or the compressor. */
export const motorVisits: Visit[] = [
  {
    name: 'the dead compressor capacitor beside a pitted contactor',
    complaint:
      'The fan outside turns but the air inside stays warm, and it hums every few minutes.',
    call: 'no_cooling',
    truth: 'run_capacitor_herm',
    onMachine: 'outdoor',
    provable: true,
    twist: 'misleading',
    story:
      'The compressor section of the capacitor has lost most of its value and the compressor only hums. The contactor is a bit pitted and drops little.',
    sheet: changeSheet(splitFurnace, compressorStill(splitFurnaceSides), {
      machines: {
        outdoor: {
          seen: {
            compressor_hums: 'yes',
            compressor_stops_on_overload: 'yes',
            capacitor_herm_bulged_or_leaking: 'yes',
            contactor_contacts_pitted: 'yes',
            compressor_starts_with_test_start_device: 'yes',
          },
          read: {
            'capacitor_herm.capacitance': microfarads(9.83),
            'contactor_pole_1.voltage': volts(0.31),
            'compressor_common.current': startAmps(74.8),
            'compressor_shell.temperature': pipeDegF(159.3),
          },
        },
      },
    }),
  },
  {
    name: 'the weak capacitor that left the compressor too hot to measure',
    complaint: 'It tried to start all morning and then went quiet except for the fan.',
    call: 'no_cooling',
    truth: 'run_capacitor_herm',
    onMachine: 'outdoor',
    provable: true,
    twist: 'misleading',
    story:
      'The section measures 18 % below the plate and the compressor stalled on it until its overload opened. Hot, it reads open from common, which looks like a dead compressor; from run to start it is whole.',
    sheet: changeSheet(oldSplit, compressorStill(oldSplitSides), {
      machines: {
        outdoor: {
          seen: {
            compressor_stops_on_overload: 'yes',
            compressor_common_reads_open: 'yes',
            compressor_cooled_down: 'no',
            overload_cause_looked_for: 'yes',
          },
          read: {
            'capacitor_herm.capacitance': microfarads(28.64),
            'compressor_common.current': amps(0.03),
            'compressor_r_to_s.resistance': ohms(4.1),
            'compressor_shell.temperature': pipeDegF(204.6),
          },
          without: ['compressor_c_to_r.resistance', 'compressor_c_to_s.resistance'],
        },
      },
    }),
  },
  {
    name: 'the capacitor at ten percent below its plate',
    complaint: 'Some afternoons it starts, some it does not.',
    call: 'poor_cooling',
    truth: 'run_capacitor_herm',
    onMachine: 'package',
    provable: false,
    twist: 'at_limit',
    story:
      'The capacitor has aged to about ten percent below the plate, and on the hottest hours the compressor stalls. The meter cannot tell on which side of the limit it lies.',
    sheet: changeSheet(packageUnit, {
      machines: {
        package: {
          seen: { compressor_stops_on_overload: 'yes' },
          read: {
            'capacitor_herm.capacitance': microfarads(40.28),
            'capacitor_herm.current': amps(5.56),
            'capacitor_herm.voltage': volts(364.8),
            'compressor_common.current': amps(17.94),
            'compressor_shell.temperature': pipeDegF(176.4),
          },
        },
      },
    }),
  },
  {
    name: 'the outdoor fan that hums',
    complaint: 'The fan on top is not turning and the thing gets very hot, then shuts off.',
    call: 'no_cooling',
    truth: 'run_capacitor_fan',
    onMachine: 'outdoor',
    provable: true,
    twist: 'plain',
    story:
      'The fan section is nearly dead, the motor hums and turns freely by hand. Without air the head climbs until the compressor stops on its overload.',
    sheet: changeSheet(splitFurnace, {
      machines: {
        outdoor: {
          seen: {
            outdoor_fan_running: 'no',
            outdoor_fan_hums: 'yes',
            compressor_stops_on_overload: 'yes',
            contactor_by_hand_both_start: 'no',
            capacitor_fan_bulged_or_leaking: 'yes',
          },
          read: {
            'capacitor_fan.capacitance': microfarads(1.12),
            'outdoor_fan_lead.current': amps(2.07),
            'compressor_common.current': amps(17.86),
            'compressor_shell.temperature': pipeDegF(207.3),
            // Until it stops: suction 55 F, liquid 147 F by the saturation table.
            'suction_port.gauge_pressure': psig(155.2),
            'liquid_port.gauge_pressure': psig(591.7),
            'suction_line.temperature': pipeDegF(63.9),
            'liquid_line.temperature': pipeDegF(141.6),
            'condenser_air_in.temperature': airDegF(104.8),
          },
          without: [
            'filter_drier_in.temperature',
            'filter_drier_out.temperature',
            'outdoor_coil_cleared_pressure_fell',
          ],
        },
        furnace: {
          read: {
            'return_air.temperature': airDegF(81.7),
            'supply_air.temperature': airDegF(69.8),
          },
        },
      },
    }),
  },
  {
    name: 'the blower capacitor at ten percent below its plate',
    complaint: 'Weak air from the vents, worse every week.',
    call: 'poor_cooling',
    truth: 'run_capacitor_blower',
    onMachine: 'furnace',
    provable: false,
    twist: 'at_limit',
    story:
      'The capacitor of the blower has aged to about ten percent below its plate and the blower runs slow and hot. The meter cannot tell on which side of the limit it lies.',
    sheet: changeSheet(oldSplit, {
      machines: {
        furnace: {
          read: {
            'capacitor_blower.capacitance': microfarads(6.79),
            'blower_lead.current': amps(5.71),
            'supply_air.temperature': airDegF(58.6),
            'supply_static.static_pressure': inWc(0.19),
            'return_static.static_pressure': inWc(-0.16),
            'filter_drop.static_pressure': inWc(0.08),
            'indoor_coil_drop.static_pressure': inWc(0.15),
          },
        },
        outdoor: {
          read: {
            'suction_port.gauge_pressure': dialPsig(69),
            'liquid_port.gauge_pressure': dialPsig(270),
            'suction_line.temperature': pipeDegF(46.2),
            'liquid_line.temperature': pipeDegF(113.1),
            'compressor_common.current': amps(10.61),
          },
        },
      },
    }),
  },
  {
    name: 'the contactor whose contacts burnt away',
    complaint: 'It buzzes and chatters outside and stops and starts.',
    call: 'no_cooling',
    truth: 'worn_contactor',
    onMachine: 'outdoor',
    provable: true,
    twist: 'plain',
    story:
      'The closed pole drops more than nine volts, far beyond what contacts may, and the contacts are burnt. Coil and call are sound.',
    sheet: changeSheet(splitFurnace, {
      machines: {
        outdoor: {
          seen: {
            contactor_contacts_pitted: 'yes',
            compressor_stops_on_overload: 'yes',
            capacitor_herm_bulged_or_leaking: 'no',
          },
          read: {
            'contactor_pole_1.voltage': volts(9.37),
            'outdoor_fan_supply.voltage': volts(228.4),
            'compressor_common.current': amps(12.14),
            'compressor_shell.temperature': pipeDegF(163.2),
            'capacitor_herm.capacitance': microfarads(38.77),
            'capacitor_herm.current': amps(5.06),
            'capacitor_herm.voltage': volts(347.1),
          },
        },
        furnace: {
          read: {
            'return_air.temperature': airDegF(80.4),
            'supply_air.temperature': airDegF(62.3),
          },
        },
      },
    }),
  },
  {
    name: 'the compressor that went to ground',
    complaint: 'Big bang outside, breaker off, and it goes off again at once.',
    call: 'no_cooling',
    truth: 'compressor_grounded',
    onMachine: 'outdoor',
    provable: true,
    twist: 'misleading',
    story:
      'A winding of the compressor lies on its shell and the breaker trips at every reset. The breaker is old and warm, and looks like the culprit.',
    sheet: changeSheet(oldSplit, outdoorWithoutPower(oldSplitSides), {
      machines: {
        outdoor: {
          seen: {
            breaker_found_tripped: 'yes',
            breaker_trips_again: 'yes',
            breaker_holds_under_load: 'no',
            breaker_hot_or_buzzing: 'yes',
            breaker_trip_cause_looked_for: 'yes',
            compressor_to_ground_reads_open: 'no',
          },
          read: {
            'disconnect_line_side.voltage': volts(0.3),
            'compressor_to_ground.resistance': ohms(3.2),
            'compressor_c_to_r.resistance': ohms(0.8),
            'compressor_c_to_s.resistance': ohms(2.2),
            'compressor_r_to_s.resistance': ohms(3),
          },
          without: ['contactor_by_hand_both_start'],
        },
      },
    }),
  },
  {
    name: 'the compressor that does not turn',
    complaint: 'It groans for some seconds, the lights dip, then nothing.',
    call: 'no_cooling',
    truth: 'compressor_locked',
    onMachine: 'package',
    provable: true,
    twist: 'misleading',
    story:
      'The compressor draws its locked-rotor current with a sound capacitor, sound start device and full voltage, and does not start even with a test device. The run capacitor is 4 % low, which is within its label.',
    sheet: changeSheet(packageUnit, compressorStill(packageUnitSides), {
      machines: {
        package: {
          seen: {
            compressor_hums: 'yes',
            compressor_stops_on_overload: 'yes',
            compressor_starts_with_test_start_device: 'no',
            compressor_cooled_down: 'yes',
            overload_cause_looked_for: 'yes',
          },
          read: {
            'compressor_common.current': startAmps(106.3),
            'capacitor_herm.capacitance': microfarads(43.27),
            'compressor_shell.temperature': pipeDegF(166.2),
            'line_supply.voltage': volts(233.9),
          },
        },
      },
    }),
  },
  {
    name: 'the compressor that only needs to cool',
    complaint: 'There was a power cut at noon, and since then only the fan outside runs.',
    call: 'no_cooling',
    truth: 'compressor_overload_open',
    onMachine: 'outdoor',
    provable: true,
    twist: 'misleading',
    story:
      'After the power cut the compressor tried to start against full pressure until its overload opened, and it has not closed yet. Everything that could have overheated it was looked at and is sound.',
    sheet: changeSheet(splitFurnace, compressorStill(splitFurnaceSides), {
      machines: {
        outdoor: {
          seen: {
            compressor_common_reads_open: 'yes',
            compressor_stops_on_overload: 'yes',
            compressor_run_to_start_reads_open: 'no',
            overload_cause_looked_for: 'yes',
            compressor_cooled_down: 'no',
            contactor_by_hand_both_start: 'no',
          },
          read: {
            'compressor_shell.temperature': pipeDegF(218.7),
            'compressor_r_to_s.resistance': ohms(3.2),
            'compressor_common.current': amps(0.02),
            'compressor_to_ground.resistance': groundOhms(190_000_000),
          },
          without: ['compressor_c_to_r.resistance', 'compressor_c_to_s.resistance'],
        },
      },
    }),
  },
  {
    name: 'the fan motor that died beside a capacitor out of tolerance',
    complaint: 'Top fan stands still and no cold air; last summer somebody said capacitor.',
    call: 'no_cooling',
    truth: 'failed_outdoor_fan_motor',
    onMachine: 'outdoor',
    provable: true,
    twist: 'two_weak',
    story:
      'The winding of the fan motor is open, with voltage at its leads and its capacitor section sound. The compressor section is 8 % low, outside the label, yet the compressor starts well on it.',
    sheet: changeSheet(splitFurnace, {
      machines: {
        outdoor: {
          seen: {
            outdoor_fan_running: 'no',
            outdoor_fan_hums: 'no',
            outdoor_fan_winding_reads_open: 'yes',
            compressor_stops_on_overload: 'yes',
            contactor_by_hand_both_start: 'no',
          },
          read: {
            'capacitor_herm.capacitance': microfarads(36.79),
            'capacitor_herm.current': amps(5.02),
            'capacitor_herm.voltage': volts(361.4),
            'capacitor_fan.capacitance': microfarads(4.97),
            'outdoor_fan_lead.current': amps(0.01),
            'compressor_common.current': amps(17.62),
            'compressor_shell.temperature': pipeDegF(203.8),
            // Until it stops: suction 54 F, liquid 146 F by the saturation table.
            'suction_port.gauge_pressure': psig(152.9),
            'liquid_port.gauge_pressure': psig(584.2),
            'suction_line.temperature': pipeDegF(63.1),
            'liquid_line.temperature': pipeDegF(140.4),
            'condenser_air_in.temperature': airDegF(103.9),
          },
          without: [
            'outdoor_fan_winding.resistance',
            'filter_drier_in.temperature',
            'filter_drier_out.temperature',
            'outdoor_coil_cleared_pressure_fell',
          ],
        },
        furnace: {
          read: {
            'return_air.temperature': airDegF(81.2),
            'supply_air.temperature': airDegF(69.1),
          },
        },
      },
    }),
  },
  {
    name: 'the blower module without an answer',
    complaint: 'No air at all from the vents; outside it runs and the pipe is white.',
    call: 'no_cooling',
    truth: 'failed_blower_module',
    onMachine: 'air_handler',
    provable: true,
    twist: 'misleading',
    story:
      'The motor has its line voltage and its call and does not answer a test signal either; the wheel turns freely and the winding is sound. The ice outside the coil is its work, not a lack of refrigerant.',
    sheet: changeSheet(splitAirHandler, {
      house: { indoor_fan_running: 'no' },
      houseWithout: ['blows_warm_in_cooling'],
      machines: {
        air_handler: {
          seen: {
            blower_called_and_fed: 'yes',
            blower_module_test_runs_motor: 'no',
            ice_on_coil_or_line: 'yes',
            ice_melted_before_measuring: 'no',
            ice_cause_looked_for: 'yes',
          },
          read: {
            'blower_lead.current': amps(0.04),
            'return_air.temperature': airDegF(splitAirHandlerSides.houseDegF),
          },
          without: [
            'supply_air.temperature',
            'return_static.static_pressure',
            'supply_static.static_pressure',
            'filter_drop.static_pressure',
            'indoor_coil_drop.static_pressure',
            'superheat_follows_bulb',
          ],
        },
        outdoor: {
          read: {
            // Ice all over: 14 F at the coil and hardly any load.
            'suction_port.gauge_pressure': psig(72.6),
            'liquid_port.gauge_pressure': psig(309.2),
            'suction_line.temperature': pipeDegF(31.8),
            'liquid_line.temperature': pipeDegF(89.9),
            'compressor_common.current': amps(10.88),
          },
        },
      },
    }),
  },
];
