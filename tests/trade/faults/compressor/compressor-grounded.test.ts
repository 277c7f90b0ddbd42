import { expect, test } from 'vitest';
import {
  currentEvidenceRuleset,
  type Evidence,
  evidenceRulesets,
  exclusionsMissing,
  type Verdict,
} from '../../../../src/trade/index.ts';
import { atMinute } from '../../make-circuit.ts';
import { airHandler, amps, ohms, outdoorUnit, type Sign, saw } from '../../make-evidence.ts';

const meter = (value: number, minute = 0) =>
  ohms('compressor_to_ground', value, { takenAt: atMinute(minute) });
const readsOpen = (minute: number) =>
  saw('compressor_to_ground_reads_open', 'yes', { at: atMinute(minute) });
const running = (answer: 'yes' | 'no', minute: number) =>
  saw('compressor_running', answer, { at: atMinute(minute) });
const tester = (value: number) =>
  ohms('compressor_to_ground', value, { method: 'insulation_tester' });

// Common practice, no source: below 100,000 ohm broken down, below a megohm doubtful, above two sound.
// A multimeter of 0.9 % + 2 counts of 100 ohm reads 99,500 ohm to 1,096 ohm.
const rows: [name: string, signs: Sign[], standing: Verdict['standing'], reason: string][] = [
  ['nothing recorded', [], 'unproven', 'nothing recorded'],
  ['12 ohm to ground', [meter(12)], 'proven', 'proven'],
  ['95,000 ohm to ground', [meter(95_000)], 'proven', 'proven'],
  ['99,500 ohm cannot be told from 100,000', [meter(99_500)], 'supported', 'supported'],
  ['400,000 ohm: moisture or liquid may do it', [meter(400_000)], 'supported', 'supported'],
  ['300 megohm by the tester', [tester(300e6)], 'contradicted', 'contradicted'],
  [
    'five megohm by a multimeter, whose few volts break nothing down',
    [meter(5e6)],
    'unproven',
    'looked for, no sign found',
  ],
  [
    'OL to ground by a multimeter',
    [saw('compressor_to_ground_reads_open')],
    'unproven',
    'leans against',
  ],
  [
    '12 ohm, and it was seen running',
    [meter(12), saw('compressor_running')],
    'unproven',
    'readings disagree, measure again',
  ],
  [
    '60,000 ohm, and it runs',
    [meter(60_000), running('yes', 20)],
    'unproven',
    'readings disagree, measure again',
  ],
  [
    'it ran, its breaker tripped again, and then 12 ohm',
    [running('yes', 0), saw('breaker_trips_again', 'yes', { at: atMinute(5) }), meter(12, 20)],
    'proven',
    'proven',
  ],
  [
    'it ran, was found standing, and then 12 ohm',
    [running('yes', 0), running('no', 5), meter(12, 20)],
    'proven',
    'proven',
  ],
  [
    '45,000 ohm, and 14.1 A is what a turning one draws',
    [meter(45_000), amps('compressor_common', 14.1)],
    'supported',
    'supported',
  ],
  [
    '14.1 A, later it stood and had 45,000 ohm',
    [amps('compressor_common', 14.1), running('no', 10), meter(45_000, 20)],
    'proven',
    'proven',
  ],
  [
    '12 ohm while it draws locked-rotor amps',
    [meter(12), amps('compressor_common', 108)],
    'proven',
    'proven',
  ],
  [
    '30,000 ohm with its leads on, OL with them off',
    [meter(30_000), readsOpen(20)],
    'unproven',
    'leans against',
  ],
  ['OL, then 30,000 ohm', [readsOpen(0), meter(30_000, 20)], 'unproven', 'leans against'],
  [
    'OL, then 30,000 ohm, and 30,000 ohm again',
    [readsOpen(0), meter(30_000, 20), meter(30_100, 25)],
    'proven',
    'proven, with the doubt named',
  ],
  [
    'low by the meter, then high by the tester',
    [
      meter(12),
      ohms('compressor_to_ground', 300e6, {
        method: 'insulation_tester',
        takenAt: '2026-07-14T15:20:00Z',
      }),
    ],
    'contradicted',
    'contradicted',
  ],
];
test.each(rows)('grounded compressor: %s', (_name, signs, standing, reason) => {
  const verdict = weigh(outdoorUnit(signs));
  expect([verdict.standing, verdict.reason]).toEqual([standing, reason]);
});

test('an inverter compressor can be grounded too', () => {
  expect(weigh(outdoorUnit([meter(12)], { compressorMotor: 'inverter' })).standing).toBe('proven');
});

test('the reading that condemns it does not show that its leads were off', () => {
  const missing = (signs: Sign[]) => exclusionsMissing('compressor_grounded', outdoorUnit(signs));
  expect(missing([meter(12)])).toHaveLength(1);
  expect(missing([meter(12), ohms('compressor_c_to_r', 0.8)])).toEqual([]);
});

test('the reason gives the figure, the limit and the doubt', () => {
  const [criterion] = weigh(outdoorUnit([meter(12)])).criteria;
  expect(criterion?.detail).toBe(
    '12.00 ohm measured by multimeter; broken down is below 100000 ohm; this method is good to 0.31 ohm.',
  );
});

test('an air handler has no compressor', () => {
  expect(weigh(airHandler([meter(12)])).standing).toBe('not_applicable');
});

function weigh(evidence: Evidence): Verdict {
  return evidenceRulesets[currentEvidenceRuleset].weigh('compressor_grounded', evidence);
}
