import { describe, expect, test } from 'vitest';
import {
  currentEvidenceRuleset,
  type Evidence,
  evidenceRulesets,
  exclusionsMissing,
  remedyFor,
  type Verdict,
} from '../../../../src/trade/index.ts';
import { atMinute, psig } from '../../make-circuit.ts';
import {
  amps,
  microfarads,
  ohms,
  outdoorUnit,
  type Sign,
  saw,
  volts,
} from '../../make-evidence.ts';

const helped = saw('compressor_starts_with_test_start_device');
const hums = saw('compressor_hums');
const soundCapacitor = microfarads('capacitor_herm', 45);
const supply = volts('line_supply', 238);
const toGround = saw('compressor_to_ground_reads_open');
const fanRuns = saw('outdoor_fan_running');
const pole = volts('contactor_pole_1', 0.09);
const otherPole = volts('contactor_pole_2', 0.08);
const rested = saw('compressor_cooled_down');
const wiresSound = saw('line_connection_burnt', 'no');
const all = [
  helped,
  hums,
  soundCapacitor,
  supply,
  toGround,
  fanRuns,
  pole,
  otherPole,
  wiresSound,
  rested,
];
const without = (sign: Sign) => all.filter((each) => each !== sign);

// Plate: RLA 17.9, LRA 112, 197 to 253 V, 45 uF +/-6 %. Common practice: from three quarters of LRA,
// 84 A, a rotor stands.
const rows: [name: string, signs: Sign[], standing: Verdict['standing'], reason: string][] = [
  ['nothing recorded', [], 'unproven', 'nothing recorded'],
  ['everything around it sound, and it starts with help only', all, 'proven', 'proven'],
  [
    'locked-rotor current in place of the hum',
    [...without(hums), amps('compressor_common', 98)],
    'proven',
    'proven',
  ],
  [
    'measured to ground in place of reading open',
    [...without(toGround), ohms('compressor_to_ground', 20e6)],
    'proven',
    'proven',
  ],
  [
    'its pressures were equal',
    [...without(rested), psig('suction_port', 146), psig('liquid_port', 150)],
    'proven',
    'proven',
  ],
  [
    'locked-rotor current right after a stop, at 310 over 130 psi',
    [
      ...all.filter((each) => each !== hums && each !== rested),
      amps('compressor_common', 104),
      psig('suction_port', 130),
      psig('liquid_port', 310),
    ],
    'supported',
    'supported',
  ],
  ['nobody knows whether it had rested', without(rested), 'supported', 'supported'],
  [
    'it rested only after it had stalled',
    [...without(rested), saw('compressor_cooled_down', 'yes', { at: atMinute(45) })],
    'supported',
    'supported',
  ],
  ['one pole of the contactor not measured', without(otherPole), 'supported', 'supported'],
  [
    'it read 30,000 ohm to ground before it read OL',
    [
      ...without(toGround),
      ohms('compressor_to_ground', 30_000),
      saw('compressor_to_ground_reads_open', 'yes', { at: atMinute(5) }),
    ],
    'supported',
    'supported',
  ],
  ['it only hums, nothing tried', without(helped), 'unproven', 'looked for, no sign found'],
  [
    'its overload stopped it, which heat does to one that starts well',
    [...without(hums), saw('compressor_hums', 'no'), saw('compressor_stops_on_overload')],
    'supported',
    'supported',
  ],
  ['its run capacitor not measured', without(soundCapacitor), 'supported', 'supported'],
  [
    'its run capacitor weak: that is the cause to mend first',
    [...without(soundCapacitor), microfarads('capacitor_herm', 31)],
    'unproven',
    'signs disagree',
  ],
  ['the supply not measured', without(supply), 'supported', 'supported'],
  [
    'the outdoor fan stands: then it is heat that stops the compressor',
    [...without(fanRuns), saw('outdoor_fan_running', 'no')],
    'supported',
    'supported',
  ],
  [
    'the contactor drops 6 V just when it starts',
    [...without(pole), volts('contactor_pole_1', 6)],
    'supported',
    'supported',
  ],
  [
    'a line connection is burnt',
    [...without(wiresSound), saw('line_connection_burnt')],
    'supported',
    'supported',
  ],
  ['the supply low', [...without(supply), volts('line_supply', 189)], 'supported', 'supported'],
  [
    '198 V cannot be told from 197 V',
    [...without(supply), volts('line_supply', 198)],
    'supported',
    'supported',
  ],
  ['not measured to ground', without(toGround), 'supported', 'supported'],
  ['grounded', [...without(toGround), ohms('compressor_to_ground', 800)], 'supported', 'supported'],
  [
    'it starts with help, but nothing shows that it stalls',
    without(hums),
    'supported',
    'supported',
  ],
  [
    'the peak of a start is locked-rotor current on any compressor',
    [...without(hums), amps('compressor_common', 98, { method: 'clamp_meter_inrush' })],
    'supported',
    'supported',
  ],
  [
    'running current shows no stall',
    [...without(hums), amps('compressor_common', 15)],
    'supported',
    'supported',
  ],
  [
    'no start device helps it',
    [...without(helped), saw('compressor_starts_with_test_start_device', 'no')],
    'contradicted',
    'contradicted',
  ],
];
test.each(rows)('hard-starting compressor: %s', (_name, signs, standing, reason) => {
  const verdict = weigh(outdoorUnit(signs));
  expect([verdict.standing, verdict.reason]).toEqual([standing, reason]);
});

describe('a start device is not sold on a guess', () => {
  test('it needs proof', () => {
    expect(remedyFor('hard_starting_compressor', 'add_start_device')).toMatchObject({
      needs: 'proven',
      remedyClass: 'accessory',
    });
  });

  test.each([
    ['the run capacitor', soundCapacitor],
    ['the supply', supply],
    ['the compressor to ground', toGround],
  ])('%s is measured first', (_name, sign) => {
    expect(exclusionsMissing('hard_starting_compressor', outdoorUnit(all))).toEqual([]);
    expect(exclusionsMissing('hard_starting_compressor', outdoorUnit(without(sign)))).toHaveLength(
      1,
    );
  });
});

test('what was missing is said', () => {
  const { doubts } = weigh(outdoorUnit(without(supply)));
  expect(doubts).toEqual(['Measure the line voltage at the unit.']);
});

test.each([
  ['csr', 'the compressor has a start device already: look whether that one has failed'],
  ['inverter', 'the compressor is driven by an inverter and takes no start device'],
  ['three_phase', 'a three-phase compressor takes no start device'],
] as const)('a compressor of kind %s is not judged', (compressorMotor, reason) => {
  expect(weigh(outdoorUnit(all, { compressorMotor }))).toMatchObject({
    standing: 'not_applicable',
    reason,
  });
});

function weigh(evidence: Evidence): Verdict {
  return evidenceRulesets[currentEvidenceRuleset].weigh('hard_starting_compressor', evidence);
}
