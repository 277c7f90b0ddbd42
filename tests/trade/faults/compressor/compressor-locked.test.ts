import { expect, test } from 'vitest';
import {
  currentEvidenceRuleset,
  type Evidence,
  evidenceRulesets,
  exclusionsMissing,
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

const common = (value: number, more = {}) => amps('compressor_common', value, more);
const inrush = (value: number) => common(value, { method: 'clamp_meter_inrush' });
const stands = saw('compressor_running', 'no');
const supply = volts('line_supply', 238);
const soundCapacitor = microfarads('capacitor_herm', 45);
const noHelp = saw('compressor_starts_with_test_start_device', 'no');
const windings = [
  ohms('compressor_c_to_r', 0.8),
  ohms('compressor_c_to_s', 2.1),
  ohms('compressor_r_to_s', 2.9),
];
const poles = [volts('contactor_pole_1', 0.09), volts('contactor_pole_2', 0.11)];
const wiresSound = saw('line_connection_burnt', 'no');
const rested = saw('compressor_cooled_down');
const equal = [psig('suction_port', 146), psig('liquid_port', 148)];
const around = [supply, soundCapacitor, ...windings, ...poles, wiresSound];
const rest = [stands, noHelp, rested, ...around];
const at = (minute: number) => ({ at: atMinute(minute) });
const without = (...signs: Sign[]) => rest.filter((each) => !signs.includes(each));

// The plate has 17.9 A rated load and 112 A locked rotor; near locked rotor begins at 84 A.
const rows: [name: string, signs: Sign[], standing: Verdict['standing'], reason: string][] = [
  ['nothing recorded', [], 'unproven', 'nothing recorded'],
  ['108 A, and all else excluded', [common(108), ...rest], 'proven', 'proven'],
  [
    'the held peak of a start, which a sound one shows too',
    [inrush(108), ...rest],
    'supported',
    'supported',
  ],
  [
    'the held peak of a try at which it only hummed',
    [inrush(108), saw('compressor_hums'), ...rest],
    'proven',
    'proven',
  ],
  [
    'it hummed an hour before the start whose peak was held',
    [saw('compressor_hums', 'yes', at(-60)), inrush(108), ...rest],
    'supported',
    'supported',
  ],
  [
    'its pressures are equal in place of a rest',
    [common(108), ...without(rested), ...equal],
    'proven',
    'proven',
  ],
  [
    'tried against 330 over 125 psi',
    [common(108), ...without(rested), psig('suction_port', 125), psig('liquid_port', 330)],
    'supported',
    'supported',
  ],
  [
    'its pressures were read equal only afterwards',
    [common(108), ...without(rested), psig('suction_port', 146, 20), psig('liquid_port', 148, 20)],
    'supported',
    'supported',
  ],
  [
    'nobody knows whether it had rested',
    [common(108), ...without(rested)],
    'supported',
    'supported',
  ],
  [
    'it reads open from run to start',
    [
      common(108),
      ...without(...windings),
      ...windings.slice(0, 1),
      saw('compressor_run_to_start_reads_open'),
    ],
    'supported',
    'supported',
  ],
  [
    'its windings were not measured',
    [common(108), ...without(...windings)],
    'supported',
    'supported',
  ],
  [
    'a pole of the contactor drops 14 V',
    [
      common(108),
      ...without(...poles),
      volts('contactor_pole_1', 14),
      volts('contactor_pole_2', 0.1),
    ],
    'supported',
    'supported',
  ],
  [
    'only one pole was measured',
    [common(108), ...without(...poles), volts('contactor_pole_1', 0.09)],
    'supported',
    'supported',
  ],
  [
    'a line connection is burnt',
    [common(108), ...without(wiresSound), saw('line_connection_burnt')],
    'supported',
    'supported',
  ],
  [
    'the start device was tried minutes after it stalled: its overload may have been open',
    [
      common(108),
      ...without(noHelp),
      saw('compressor_starts_with_test_start_device', 'no', at(10)),
    ],
    'supported',
    'supported',
  ],
  [
    'its overload was read open just before the try, and it drew current just after',
    [
      saw('compressor_common_reads_open', 'yes', at(5)),
      saw('compressor_starts_with_test_start_device', 'no', at(10)),
      common(108, { takenAt: atMinute(12) }),
      ...without(noHelp),
    ],
    'supported',
    'supported',
  ],
  [
    'tried while its overload was open, and closed later',
    [
      saw('compressor_common_reads_open', 'yes', at(5)),
      saw('compressor_starts_with_test_start_device', 'no', at(10)),
      saw('compressor_common_reads_open', 'no', at(60)),
      common(108, { takenAt: atMinute(60) }),
      ...without(noHelp, stands, ...windings),
      ...windings.map((sign) => later(sign, 58)),
      saw('compressor_running', 'no', at(60)),
    ],
    'supported',
    'supported',
  ],
  [
    'tried again with the clamp on it',
    [
      saw('compressor_common_reads_open', 'yes', at(5)),
      saw('compressor_common_reads_open', 'no', at(58)),
      ...windings.map((sign) => later(sign, 58)),
      saw('compressor_starts_with_test_start_device', 'no', at(60)),
      common(108, { takenAt: atMinute(60) }),
      ...without(noHelp, stands, ...windings),
      saw('compressor_running', 'no', at(60)),
    ],
    'proven',
    'proven',
  ],
  [
    'it stood before its breaker was switched on, and nobody looked again',
    [
      ...without(noHelp),
      saw('breaker_found_tripped', 'yes', at(5)),
      common(108, { takenAt: atMinute(20) }),
      saw('compressor_starts_with_test_start_device', 'no', at(20)),
    ],
    'supported',
    'supported',
  ],
  [
    'nobody says whether it turned',
    [inrush(108), ...without(stands)],
    'unproven',
    'undecided by this method',
  ],
  ['only the amps', [common(108), stands], 'supported', 'supported'],
  [
    'the peak of a start alone is the same on a sound compressor',
    [inrush(108)],
    'unproven',
    'undecided by this method',
  ],
  [
    'the peak of a start, and then it runs',
    [inrush(108), saw('compressor_running')],
    'contradicted',
    'contradicted',
  ],
  ['the supply not measured', [common(108), ...without(supply)], 'supported', 'supported'],
  [
    'the supply is low',
    [common(108), ...without(supply), volts('line_supply', 185)],
    'supported',
    'supported',
  ],
  [
    'the capacitor not measured',
    [common(108), ...without(soundCapacitor)],
    'supported',
    'supported',
  ],
  [
    'the capacitor is weak',
    [common(108), ...without(soundCapacitor), microfarads('capacitor_herm', 30)],
    'supported',
    'supported',
  ],
  ['no start device tried', [common(108), ...without(noHelp)], 'supported', 'supported'],
  [
    'it starts with a start device',
    [common(108), ...without(noHelp), saw('compressor_starts_with_test_start_device')],
    'contradicted',
    'contradicted',
  ],
  [
    '84 A cannot be told from where locked rotor begins',
    [common(84), ...rest],
    'unproven',
    'undecided by this method',
  ],
  ['30 A is too much but turning', [common(30), ...rest], 'unproven', 'looked for, no sign found'],
  ['it only hums', [saw('compressor_hums')], 'supported', 'supported'],
  ['it draws nothing', [common(0), ...rest], 'unproven', 'looked for, no sign found'],
];
test.each(rows)('locked compressor: %s', (_name, signs, standing, reason) => {
  const verdict = weigh(outdoorUnit(signs));
  expect([verdict.standing, verdict.reason]).toEqual([standing, reason]);
});

test('without rated-load amps on the plate no current is judged', () => {
  const { compressorRlaAmps: _, ...plate } = outdoorUnit([]).equipment.nameplate;
  const evidence = outdoorUnit([common(108), ...rest]);
  const machine = { ...evidence.equipment, nameplate: plate };
  expect(weigh({ ...evidence, equipment: machine }).standing).toBe('unproven');
});

test('a three-phase compressor is not judged by one leg', () => {
  const evidence = outdoorUnit([common(108), ...rest], {
    phase: 3,
    compressorMotor: 'three_phase',
  });
  expect(weigh(evidence).standing).toBe('not_applicable');
});

test('a compressor is not sold before all that can stall a sound one was tried', () => {
  const missing = (signs: Sign[]) =>
    exclusionsMissing('compressor_locked', outdoorUnit(signs)).length;
  expect(missing([common(108), stands])).toBe(6);
  // A current alone is no measured capacitor.
  expect(
    missing([...rest.filter((each) => each !== soundCapacitor), amps('capacitor_herm', 6)]),
  ).toBe(1);
  expect(missing([common(108), ...rest])).toBe(0);
});

function later(sign: Sign, minute: number): Sign {
  return 'reading' in sign
    ? { reading: { ...sign.reading, takenAt: atMinute(minute) } }
    : { observation: { ...sign.observation, at: atMinute(minute) } };
}

function weigh(evidence: Evidence): Verdict {
  return evidenceRulesets[currentEvidenceRuleset].weigh('compressor_locked', evidence);
}
