import { controlVoltsMin } from '../../electrical/control-volts.ts';
import type { Facts } from '../../facts/admit-evidence.ts';
import { measuredAt, show } from '../../facts/measured.ts';
import { compareWithLimit } from '../../uncertainty/compare-with-limit.ts';
import type { Weighed } from '../../verdicts/verdict.ts';
import { weighMeasurement } from '../../verdicts/weigh-measurement.ts';
import { weighObservation } from '../../verdicts/weigh-observation.ts';
import { cautions } from '../cautions.ts';
import { noControlPower } from '../expectations.ts';
import type { Fault } from '../fault.ts';
import { closedFuseOhmsMax } from './control-fuse.ts';

export const openControlFuse = {
  name: 'Open control fuse',
  explanation:
    'A small fuse protects the control board: it blows when too much current flows, mostly because two control wires touch, and the thermostat can then no longer tell the equipment to run. A new fuse restores the control circuit. What made it blow is a separate question.',
  partOfSystem: 'control',
  role: 'symptom',
  notTheCause: 'An open fuse is not the cause: usually a short in the control circuit opens it.',
  causeSearch: {
    lookFor:
      'Look for the short: with the power off take the field wires off the R side, then add one wire at a time, Y first; a coil of some 10 to 20 ohm is sound, below 2 ohm is a short.',
    recordedBy: [{ observation: 'control_short_looked_for', answers: ['yes'] }],
  },
  kinds: ['air_handler', 'furnace', 'package_unit', 'heat_pump'],
  dear: false,
  cautions: [
    cautions.lowVoltage,
    'Never fit a larger fuse than the board is marked for.',
    cautions.gasFurnace,
  ],
  exclusions: [],
  remedies: [
    {
      task: 'replace_control_fuse',
      remedyClass: 'reset',
      needs: 'supported',
      partCategories: ['control_fuse'],
    },
    {
      task: 'trace_control_short',
      remedyClass: 'diagnose',
      needs: 'supported',
      partCategories: [],
    },
  ],
  rules: { criteria: weighFuse },
  settledBy: ['pull_control_fuse'],
  perThousand: 30,
  expects: {
    ...noControlPower,
    control_fuse_reads_open: 0.98,
    control_fuse_seen_blown: 0.9,
    transformer_secondary_volts: { fine: 0.97 },
    transformer_primary_volts: { fine: 0.99 },
    control_cable_ohms: { short: 0.02 },
  },
} as const satisfies Fault;

function weighFuse(facts: Facts): Weighed[] {
  return [
    weighObservation(facts, {
      id: 'reads_open',
      direction: 'for',
      code: 'control_fuse_reads_open',
      weight: 'decisive',
    }),
    weighMeasurement(
      {
        id: 'voltage_across_fuse',
        statement: 'The control voltage stands across the fuse.',
        direction: 'for',
        weight: 'decisive',
      },
      measuredAt(facts, 'control_fuse', 'voltage'),
      (measured) => {
        const { value, unit, uncertainty } = measured;
        const side = compareWithLimit(measured, controlVoltsMin);
        return {
          outcome: side === 'above' ? 'met' : side === 'below' ? 'not_met' : 'undecided',
          detail: `${show(measured)} across the fuse; a sound one drops about 0 V.`,
          measurement: {
            label: 'Voltage across the fuse',
            value,
            unit,
            uncertainty,
            high: controlVoltsMin,
          },
        };
      },
    ),
    weighObservation(facts, {
      id: 'element_seen_blown',
      direction: 'for',
      code: 'control_fuse_seen_blown',
      weight: 'photoDecides',
    }),
    weighObservation(facts, {
      id: 'reads_closed',
      statement: 'The control fuse, pulled from the board, reads closed.',
      direction: 'against',
      code: 'control_fuse_reads_open',
      answer: 'no',
      weight: 'decisive',
    }),
    weighMeasurement(
      {
        id: 'low_resistance',
        statement: 'The pulled fuse has less than 1 ohm.',
        direction: 'against',
        weight: 'decisive',
      },
      measuredAt(facts, 'control_fuse', 'resistance'),
      (measured) => {
        const { value, unit, uncertainty } = measured;
        const side = compareWithLimit(measured, closedFuseOhmsMax);
        return {
          outcome: side === 'below' ? 'met' : side === 'above' ? 'not_met' : 'undecided',
          detail: `${show(measured)} through the fuse.`,
          measurement: {
            label: 'Resistance of the fuse',
            value,
            unit,
            uncertainty,
            high: closedFuseOhmsMax,
          },
        };
      },
    ),
  ];
}
