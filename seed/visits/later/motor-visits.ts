import { changeSheet } from '../change-sheet.ts';
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
} from '../measured-by.ts';
import { compressorStill, heatPumpSides, oldSplitSides, packageUnitSides } from '../states.ts';
import { heatPump, oldSplit, packageUnit, splitFurnace } from '../systems.ts';
import type { Visit } from '../visit.ts';

/** Calls whose cause is a contactor, a capacitor, a motor or the compressor. */
export const laterMotorVisits: Visit[] = [
  {
    name: 'the contactor that never lets go',
    complaint: 'It runs outside all night with the thermostat satisfied; now hardly any air comes.',
    call: 'no_cooling',
    truth: 'stuck_contactor',
    onMachine: 'outdoor',
    provable: true,
    twist: 'misleading',
    story:
      'The one pole of the contactor has welded. At night the compressor ran on with the blower off and froze the coil, which now lets no air through. The ice looks like a filter or a lack of refrigerant.',
    sheet: changeSheet(splitFurnace, {
      machines: {
        furnace: {
          read: {
            'blower_lead.current': amps(4.87),
            'return_air.temperature': airDegF(82.3),
            'supply_air.temperature': airDegF(56.8),
            'return_static.static_pressure': inWc(-0.05),
            'supply_static.static_pressure': inWc(0.68),
            'filter_drop.static_pressure': inWc(0.03),
            'indoor_coil_drop.static_pressure': inWc(0.65),
          },
        },
        coil: {
          seen: {
            ice_on_coil_or_line: 'yes',
            ice_melted_before_measuring: 'no',
            ice_cause_looked_for: 'yes',
          },
          without: ['superheat_follows_bulb', 'drain_flows_when_tested'],
        },
        outdoor: {
          seen: {
            contactor_stays_closed_without_call: 'yes',
            contactor_contacts_pitted: 'yes',
            control_wire_damaged: 'no',
          },
          read: {
            'contactor_pole_1.voltage': volts(0.058),
            // Ice all over: suction 22 F, liquid 105 F by the saturation table.
            'suction_port.gauge_pressure': psig(81.9),
            'liquid_port.gauge_pressure': psig(341.7),
            'suction_line.temperature': pipeDegF(29.2),
            'liquid_line.temperature': pipeDegF(95.8),
            'filter_drier_in.temperature': pipeDegF(95.5),
            'filter_drier_out.temperature': pipeDegF(95.1),
            'compressor_common.current': amps(10.03),
            'compressor_shell.temperature': pipeDegF(112.6),
          },
        },
      },
    }),
  },
  {
    name: 'the start capacitor that burst',
    complaint: 'Up on the roof it grunts every ten minutes, with a bad smell the first time.',
    call: 'no_cooling',
    truth: 'failed_start_device',
    onMachine: 'package',
    provable: true,
    twist: 'misleading',
    story:
      'The start capacitor has burst and measures a third of its label. The compressor draws its locked-rotor current and trips, and starts at once with a start device held in for a test. The run capacitor is 4 % low, inside its label.',
    sheet: changeSheet(packageUnit, compressorStill(packageUnitSides), {
      machines: {
        package: {
          seen: {
            start_device_burnt: 'yes',
            compressor_hums: 'yes',
            compressor_stops_on_overload: 'yes',
            compressor_starts_with_test_start_device: 'yes',
            compressor_cooled_down: 'yes',
            overload_cause_looked_for: 'yes',
            contactor_contacts_pitted: 'yes',
          },
          read: {
            'start_capacitor.capacitance': microfarads(31.37),
            'capacitor_herm.capacitance': microfarads(43.09),
            'compressor_common.current': startAmps(105.2),
            'compressor_shell.temperature': pipeDegF(163.8),
          },
          without: ['start_device_stays_in_circuit'],
        },
      },
    }),
  },
  {
    name: 'the compressor without its start winding',
    complaint: 'A neighbor said it wants a capacitor. It hums, clicks, and the fan goes on alone.',
    call: 'no_cooling',
    truth: 'compressor_open_winding',
    onMachine: 'outdoor',
    provable: true,
    twist: 'two_weak',
    story:
      'Cold, the start winding is open: from common to run it measures as always, from start to either other terminal nothing. The capacitor is 7 % low, out of its tolerance, and a test start device changes nothing.',
    sheet: changeSheet(oldSplit, compressorStill(oldSplitSides), {
      machines: {
        outdoor: {
          seen: {
            compressor_hums: 'yes',
            compressor_stops_on_overload: 'yes',
            compressor_common_reads_open: 'no',
            compressor_run_to_start_reads_open: 'yes',
            compressor_cooled_down: 'yes',
            compressor_starts_with_test_start_device: 'no',
            overload_cause_looked_for: 'yes',
          },
          read: {
            'capacitor_herm.capacitance': microfarads(32.48),
            'compressor_c_to_r.resistance': ohms(0.9),
            'compressor_to_ground.resistance': groundOhms(61_000_000),
            'compressor_common.current': startAmps(66.7),
            'compressor_shell.temperature': pipeDegF(118.9),
          },
          without: ['compressor_c_to_s.resistance', 'compressor_r_to_s.resistance'],
        },
      },
    }),
  },
  {
    name: 'the new capacitor that is too small',
    complaint: 'The compressor is bad, another man said; he had put in a new capacitor in May.',
    call: 'no_cooling',
    truth: 'run_capacitor_herm',
    onMachine: 'outdoor',
    provable: true,
    twist: 'misleading',
    story:
      'The can fitted in May is marked 25 and measures 25, but the plate of the machine asks for 35. The compressor stalls on it, and starts with a test device. Nothing bulges and every winding is sound.',
    sheet: changeSheet(heatPump, compressorStill(heatPumpSides), {
      machines: {
        outdoor: {
          seen: {
            compressor_hums: 'yes',
            compressor_stops_on_overload: 'yes',
            compressor_cooled_down: 'yes',
            compressor_starts_with_test_start_device: 'yes',
            overload_cause_looked_for: 'yes',
          },
          read: {
            'capacitor_herm.capacitance': microfarads(24.79),
            'compressor_common.current': startAmps(60.8),
            'compressor_shell.temperature': pipeDegF(154.6),
            'coil_sensor.temperature': pipeDegF(96.6),
            'coil_sensor.resistance': ohms(6_260),
          },
          // A valve shifts only while a compressor makes pressure.
          without: ['reversing_valve_shifts', 'defrost_starts_when_forced'],
        },
      },
    }),
  },
  {
    name: 'the outdoor fan that turns too slowly',
    complaint: 'Good in the morning, poor after lunch, and around four it cuts out for a while.',
    call: 'poor_cooling',
    truth: 'run_capacitor_fan',
    onMachine: 'outdoor',
    provable: true,
    twist: 'misleading',
    story:
      'The fan section has lost two fifths, so that the fan still starts but turns slowly, draws more than its plate and moves too little air. The coil is dirty at its foot; washed, the pressure stayed where it was.',
    sheet: changeSheet(oldSplit, {
      machines: {
        furnace: {
          read: {
            'return_air.temperature': airDegF(80.8),
            'supply_air.temperature': airDegF(65.3),
          },
        },
        outdoor: {
          seen: {
            outdoor_coil_dirty: 'yes',
            outdoor_coil_cleared_pressure_fell: 'no',
            compressor_stops_on_overload: 'yes',
            overload_cause_looked_for: 'yes',
          },
          read: {
            'capacitor_fan.capacitance': microfarads(3.02),
            'outdoor_fan_lead.current': amps(0.91),
            // Suction 51.7 F and liquid 140 F by the saturation table.
            'suction_port.gauge_pressure': dialPsig(87),
            'liquid_port.gauge_pressure': dialPsig(337.5),
            'suction_line.temperature': pipeDegF(57.4),
            'liquid_line.temperature': pipeDegF(130.2),
            'condenser_air_in.temperature': airDegF(100.3),
            'compressor_common.current': amps(13.21),
            'compressor_shell.temperature': pipeDegF(187.4),
          },
        },
      },
    }),
  },
  {
    name: 'the blower whose bearing seized',
    complaint: 'It squealed for a week. Now no air at all, and ice on the pipe outside.',
    call: 'no_cooling',
    truth: 'seized_blower',
    onMachine: 'furnace',
    provable: true,
    twist: 'misleading',
    story:
      'The bearing of the blower motor has seized: fed and called it only hums at twice its plate until its protector opens, and the wheel does not turn by hand though nothing blocks it. Winding and capacitor are sound. The ice is its work.',
    sheet: changeSheet(oldSplit, {
      house: { indoor_fan_running: 'no' },
      houseWithout: ['blows_warm_in_cooling'],
      machines: {
        furnace: {
          seen: {
            blower_called_and_fed: 'yes',
            blower_hums: 'yes',
            blower_wheel_turns_freely: 'no',
            blower_wheel_blocked: 'no',
            ice_on_coil_or_line: 'yes',
            ice_melted_before_measuring: 'no',
            ice_cause_looked_for: 'yes',
          },
          read: {
            'blower_lead.current': amps(12.34),
            'blower_winding.resistance': ohms(4.2),
            'capacitor_blower.capacitance': microfarads(7.18),
            'return_air.temperature': airDegF(oldSplitSides.houseDegF),
          },
          without: [
            'supply_air.temperature',
            'return_static.static_pressure',
            'supply_static.static_pressure',
            'filter_drop.static_pressure',
            'indoor_coil_drop.static_pressure',
            'drain_flows_when_tested',
          ],
        },
        outdoor: {
          read: {
            // Hardly any load: suction 12 F, liquid 106 F by the saturation table.
            'suction_port.gauge_pressure': dialPsig(35),
            'liquid_port.gauge_pressure': dialPsig(213),
            'suction_line.temperature': pipeDegF(17.6),
            'liquid_line.temperature': pipeDegF(100.7),
            'compressor_common.current': amps(8.46),
            'compressor_shell.temperature': pipeDegF(97.2),
          },
        },
      },
    }),
  },
];
