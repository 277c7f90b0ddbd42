import { expect, test } from 'vitest';
import { admitEvidence } from '../../../src/trade/facts/admit-evidence.ts';
import type { Evidence } from '../../../src/trade/index.ts';
import { motorsSignReaders } from '../../../src/trade/signs/motors.ts';
import {
  microfarads,
  ohms,
  outdoorUnit,
  running,
  type Sign,
  saw,
  volts,
} from '../make-evidence.ts';

const pulledIn = saw('contactor_pulled_in');
const runs = saw('compressor_running');
const coil = (value: number) => outdoorUnit([volts('contactor_coil', value)]);
const coilOhms = (value: number) => outdoorUnit([ohms('contactor_coil', value)]);
const poles = (first: number, second: number, ...more: Sign[]) =>
  outdoorUnit([volts('contactor_pole_1', first), volts('contactor_pole_2', second), ...more]);
const herm = (value: number) => outdoorUnit([microfarads('capacitor_herm', value)]);
const fan = (value: number) => outdoorUnit([microfarads('capacitor_fan', value)]);

type Row = [name: string, evidence: Evidence, read: string | undefined];

// A multimeter of 1 % + 3 counts reads 5 V to 0.053 V, 20 V to 0.23 V, 3 V to 0.033 V; of 0.9 % + 2
// counts 2 ohm to 0.218 ohm. The run capacitor is 45/5 uF +/-6 %: 42.3 and 4.7 uF are the least of
// the label, below 40.5 and 4.5 uF it has failed; leads off a meter of 1.9 % + 2 counts.
const rows: Record<keyof typeof motorsSignReaders, Row[]> = {
  contactor_coil_volts: [
    ['nothing measured', outdoorUnit([]), undefined],
    ['0.3 V', coil(0.3), 'none'],
    ['5.02 V', coil(5.02), undefined],
    ['14 V', coil(14), 'low'],
    ['20.1 V', coil(20.1), undefined],
    ['24.8 V', coil(24.8), 'fine'],
    ['120 V, another kind of coil', coil(120), undefined],
  ],
  contactor_coil_ohms: [
    ['nothing measured', outdoorUnit([]), undefined],
    ['0.4 ohm', coilOhms(0.4), 'short'],
    ['2.1 ohm', coilOhms(2.1), undefined],
    ['14 ohm', coilOhms(14), 'fine'],
  ],
  contactor_drop: [
    ['nothing measured', outdoorUnit([pulledIn, runs]), undefined],
    ['4 V over the worse pole', poles(0.02, 4, pulledIn), 'high'],
    ['3.02 V over the worse pole', poles(0.02, 3.02, pulledIn), undefined],
    ['1.2 V over the worse pole', poles(0.02, 1.2, pulledIn), 'raised'],
    ['0.502 V over the worse pole', poles(0.02, 0.502, pulledIn, runs), undefined],
    ['both clean under load', poles(0.05, 0.04, pulledIn, runs), 'fine'],
    ['both clean without a load', poles(0.05, 0.04, pulledIn), undefined],
    ['line voltage over open poles', poles(240, 240, saw('contactor_pulled_in', 'no')), undefined],
    ['nobody looked whether it is in', poles(4, 4, runs), undefined],
    [
      'one clean pole of two',
      outdoorUnit([volts('contactor_pole_1', 0.05), pulledIn, runs]),
      undefined,
    ],
  ],
  capacitor_herm: [
    ['nothing measured', outdoorUnit([]), undefined],
    ['31 uF', herm(31), 'failed'],
    ['40.6 uF', herm(40.6), undefined],
    ['41.4 uF', herm(41.4), 'weak'],
    ['42.5 uF', herm(42.5), undefined],
    ['44.6 uF', herm(44.6), 'fine'],
    [
      'under load, 4.3 A at 371 V are 30.7 uF',
      outdoorUnit(running('capacitor_herm', 4.3, 371)),
      'failed',
    ],
  ],
  capacitor_fan: [
    ['nothing measured', outdoorUnit([]), undefined],
    ['3.2 uF', fan(3.2), 'failed'],
    ['4.65 uF', fan(4.65), undefined],
    ['5.02 uF', fan(5.02), 'fine'],
    ['only the other section', herm(31), undefined],
  ],
};

const codes = Object.keys(rows) as (keyof typeof rows)[];
const cases = codes.flatMap((code) =>
  rows[code].map(([name, evidence, read]) => ({ code, name, evidence, read })),
);

test.each(cases)('$code, $name: $read', ({ code, evidence, read }) => {
  expect(motorsSignReaders[code](admitEvidence(evidence))).toBe(read);
});
