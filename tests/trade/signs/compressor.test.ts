import { describe, expect, test } from 'vitest';
import { admitEvidence } from '../../../src/trade/facts/admit-evidence.ts';
import { compressorSignReaders } from '../../../src/trade/signs/compressor.ts';
import { amps, microfarads, ohms, outdoorUnit, type Sign, saw } from '../make-evidence.ts';

const common = (value: number) => amps('compressor_common', value);
const inrush = (value: number) =>
  amps('compressor_common', value, { method: 'clamp_meter_inrush' });
const stands = saw('compressor_running', 'no');
const windings = (commonRun: number, commonStart: number, runStart: number) => [
  ohms('compressor_c_to_r', commonRun),
  ohms('compressor_c_to_s', commonStart),
  ohms('compressor_r_to_s', runStart),
];

describe('the plate has 17.9 A rated load and 112 A locked rotor', () => {
  const rows: [name: string, signs: Sign[], sign: string | undefined][] = [
    ['nothing measured', [], undefined],
    ['0.2 A of a crankcase heater', [common(0.2)], 'none'],
    ['0.49 A cannot be told from half an ampere', [common(0.49)], undefined],
    ['8 A', [common(8)], 'normal'],
    ['15 A', [common(15)], 'normal'],
    ['17.9 A cannot be told from the rating', [common(17.9)], undefined],
    ['25 A', [common(25)], 'high'],
    ['108 A', [common(108)], 'locked'],
    ['the peak of a start', [inrush(108)], undefined],
    ['the peak of a start that failed', [inrush(108), stands], 'locked'],
    ['the peak of a start beside the running current', [inrush(108), common(15)], 'normal'],
    [
      'two readings worlds apart',
      [common(15), amps('compressor_common', 30, { takenAt: '2026-07-14T15:05:00Z' })],
      undefined,
    ],
  ];
  test.each(rows)('compressor amps: %s', (_name, signs, sign) => {
    expect(compressorSignReaders.compressor_amps(facts(signs))).toBe(sign);
  });
});

test.each([
  ['nothing measured', [], undefined],
  ['one missing', windings(0.8, 2.1, 2.9).slice(0, 2), undefined],
  ['0.8 and 2.1 make 2.9 ohm', windings(0.8, 2.1, 2.9), 'fine'],
  ['0.8 and 2.1 do not make 6 ohm', windings(0.8, 2.1, 6), 'off'],
])('compressor windings: %s', (_name, signs, sign) => {
  expect(compressorSignReaders.compressor_windings(facts(signs))).toBe(sign);
});

test.each([
  ['nothing measured', [], undefined],
  ['12 ohm', [ohms('compressor_to_ground', 12)], 'grounded'],
  ['99,500 ohm', [ohms('compressor_to_ground', 99_500)], undefined],
  ['400,000 ohm', [ohms('compressor_to_ground', 400_000)], undefined],
  [
    '30,000 ohm and OL, which contradict each other',
    [ohms('compressor_to_ground', 30_000), saw('compressor_to_ground_reads_open')],
    undefined,
  ],
  ['20 megohm', [ohms('compressor_to_ground', 20e6)], 'fine'],
])('compressor to ground: %s', (_name, signs, sign) => {
  expect(compressorSignReaders.compressor_to_ground(facts(signs))).toBe(sign);
});

test.each([
  ['nothing measured', [], undefined],
  ['90 uF of 145 to 174', [microfarads('start_capacitor', 90)], 'failed'],
  ['144 uF cannot be told from 145', [microfarads('start_capacitor', 144)], undefined],
  ['160 uF', [microfarads('start_capacitor', 160)], 'fine'],
  ['190 uF', [microfarads('start_capacitor', 190)], 'failed'],
])('start capacitor: %s', (_name, signs, sign) => {
  const marked = { startCapacitorUfMin: 145, startCapacitorUfMax: 174 };
  const withRange = admitEvidence(outdoorUnit(signs, marked));
  expect(compressorSignReaders.start_capacitor(withRange)).toBe(sign);
});

test('a start capacitor without its marking is not judged', () => {
  const signs = [microfarads('start_capacitor', 90)];
  expect(compressorSignReaders.start_capacitor(facts(signs))).toBeUndefined();
});

function facts(signs: readonly Sign[]) {
  return admitEvidence(outdoorUnit(signs));
}
