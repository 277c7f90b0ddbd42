import { expect, test } from 'vitest';
import {
  currentEvidenceRuleset,
  type Evidence,
  evidenceRulesets,
  type Nameplate,
  type Verdict,
} from '../../../../src/trade/index.ts';
import { microfarads, outdoorUnit, type Sign, saw, volts, withPhoto } from '../../make-evidence.ts';

const plate: Partial<Nameplate> = {
  compressorMotor: 'csr',
  startCapacitorUfMin: 189,
  startCapacitorUfMax: 227,
};
const start = (value: number) => microfarads('start_capacitor', value);
const stays = saw('start_device_stays_in_circuit');
const leaves = saw('start_device_stays_in_circuit', 'no');
const burnt = 'start_device_burnt';
const wellFed = [
  saw('compressor_running'),
  volts('line_supply', 238),
  microfarads('capacitor_herm', 45),
];

// Marked 189 to 227 uF; leads off 1.9 % + 0.02 uF: 186 +/- 3.55 reaches 189.55.
const rows: [name: string, signs: Sign[], standing: Verdict['standing'], reason: string][] = [
  ['nothing recorded', [], 'unproven', 'nothing recorded'],
  ['121 uF of 189 to 227', [start(121)], 'proven', 'proven'],
  ['an open one measures 0 uF', [start(0)], 'proven', 'proven'],
  ['186 uF cannot be told from 189', [start(186)], 'unproven', 'undecided by this method'],
  [
    'within its marking, its relay not watched',
    [start(205)],
    'unproven',
    'undecided by this method',
  ],
  ['within its marking, and the relay lets go', [start(205), leaves], 'unproven', 'leans against'],
  ['it stays in circuit on a sound supply', [stays, ...wellFed], 'proven', 'proven'],
  ['it stays in circuit, the supply not measured', [stays], 'supported', 'supported'],
  [
    'it stays in circuit on a low supply, which holds a sound relay too',
    [
      stays,
      saw('compressor_running'),
      volts('line_supply', 181),
      microfarads('capacitor_herm', 45),
    ],
    'supported',
    'supported',
  ],
  [
    'it stays in circuit beside a weak run capacitor',
    [
      stays,
      saw('compressor_running'),
      volts('line_supply', 238),
      microfarads('capacitor_herm', 31),
    ],
    'supported',
    'supported',
  ],
  ['burnt, with a photo', [saw(burnt, 'yes', withPhoto)], 'proven', 'proven'],
  ['burnt, without a photo', [saw(burnt)], 'supported', 'supported'],
  [
    'burnt without a photo, but measured sound and let go',
    [saw(burnt), start(205), leaves],
    'unproven',
    'signs disagree',
  ],
];
test.each(rows)('failed start device: %s', (_name, signs, standing, reason) => {
  const verdict = weigh(outdoorUnit(signs, plate));
  expect([verdict.standing, verdict.reason]).toEqual([standing, reason]);
});

test('without the marked range nothing is judged', () => {
  expect(weigh(outdoorUnit([start(121)]))).toMatchObject({
    standing: 'unproven',
    reason: 'undecided by this method',
  });
});

test.each(['inverter', 'three_phase'] as const)(
  'a compressor by %s has none',
  (compressorMotor) => {
    expect(weigh(outdoorUnit([start(0)], { compressorMotor })).standing).toBe('not_applicable');
  },
);

function weigh(evidence: Evidence): Verdict {
  return evidenceRulesets[currentEvidenceRuleset].weigh('failed_start_device', evidence);
}
