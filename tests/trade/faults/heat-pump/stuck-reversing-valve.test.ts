import { expect, test } from 'vitest';
import {
  currentEvidenceRuleset,
  type Evidence,
  evidenceRulesets,
  type Verdict,
} from '../../../../src/trade/index.ts';
import { atMinute, degF, pipeDegF, psig } from '../../make-circuit.ts';
import { makeEvidence, ohms, outdoorUnit, type Sign, saw, volts } from '../../make-evidence.ts';

const stays = saw('reversing_valve_shifts', 'no');
const shifts = saw('reversing_valve_shifts');
const fed = volts('reversing_valve_coil', 25.4);
const soundCoil = ohms('reversing_valve_coil', 18);
const runs = saw('compressor_running');
const pressures = [psig('suction_port', 125), psig('liquid_port', 330)];
const lines = (into: number, out: number) => [
  pipeDegF('reversing_valve_suction_in', into),
  pipeDegF('reversing_valve_suction_out', out),
];

// In cooling, on a hot day: dew 118.4 psig of R-410A is 40 F, 35 F under the return air.
const readable = [
  saw('thermostat_calling_cooling'),
  degF('outdoor_air', 95),
  degF('return_air', 75),
  saw('ice_on_coil_or_line', 'no'),
];
const suctionUsual = [psig('suction_port', 118.4), psig('liquid_port', 330)];

// Two pipe clamps of 1.3 F each tell a rise to 1.84 F.
const rows: [name: string, signs: Sign[], standing: Verdict['standing'], reason: string][] = [
  ['nothing recorded', [], 'unproven', 'nothing recorded'],
  [
    'fed, coil sound, pressure there, and it stays',
    [stays, fed, soundCoil, runs, ...pressures],
    'proven',
    'proven',
  ],
  [
    'the coil is not open by the word of the technician',
    [stays, fed, saw('reversing_valve_coil_reads_open', 'no'), runs, ...pressures],
    'proven',
    'proven',
  ],
  ['the coil was not measured', [stays, fed, runs, ...pressures], 'supported', 'supported'],
  ['no pressure was measured', [stays, fed, soundCoil, runs], 'supported', 'supported'],
  [
    'too little pressure to move any valve',
    [stays, fed, soundCoil, runs, psig('suction_port', 150), psig('liquid_port', 190)],
    'supported',
    'supported',
  ],
  [
    'no voltage at its coil: look upstream',
    [stays, volts('reversing_valve_coil', 0.2), soundCoil, runs, ...pressures],
    'unproven',
    'looked for, no sign found',
  ],
  ['nobody measured the voltage', [stays], 'unproven', 'undecided by this method'],
  [
    'it stayed at rest, and was fed and had pressure half an hour later',
    [
      stays,
      volts('reversing_valve_coil', 25.4, { takenAt: atMinute(30) }),
      soundCoil,
      saw('compressor_running', 'no'),
      saw('compressor_running', 'yes', { at: atMinute(30) }),
      psig('suction_port', 125, 30),
      psig('liquid_port', 330, 30),
    ],
    'unproven',
    'undecided by this method',
  ],
  [
    'it stayed before the compressor ran, five minutes later all was there',
    [
      stays,
      volts('reversing_valve_coil', 25.4, { takenAt: atMinute(5) }),
      soundCoil,
      saw('compressor_running', 'no'),
      saw('compressor_running', 'yes', { at: atMinute(5) }),
      psig('suction_port', 125, 5),
      psig('liquid_port', 330, 5),
    ],
    'supported',
    'supported',
  ],
  [
    'the suction warms by 19 F in it',
    [runs, ...readable, ...suctionUsual, ...lines(56, 75)],
    'proven',
    'proven',
  ],
  // Dew 70 psig is about 14 F: 61 F under the return air, with little gas to carry the warmth away.
  [
    'little gas warms by 14 F on its way',
    [runs, ...readable, psig('suction_port', 70), psig('liquid_port', 250), ...lines(58, 72)],
    'supported',
    'supported',
  ],
  [
    '19 F, and no pressure was read',
    [runs, ...readable, ...lines(56, 75)],
    'supported',
    'supported',
  ],
  [
    '19 F, and nobody says whether it cools',
    [runs, ...readable.slice(1), ...suctionUsual, ...lines(56, 75)],
    'supported',
    'supported',
  ],
  ['the suction warms by 8 F in it', [runs, ...lines(56, 64)], 'supported', 'supported'],
  ['6 F cannot be told from 5 F', [runs, ...lines(56, 62)], 'unproven', 'undecided by this method'],
  [
    'the lines of a machine that stands',
    [saw('compressor_running', 'no'), ...lines(56, 75)],
    'unproven',
    'undecided by this method',
  ],
  ['it shifts and is tight', [shifts, runs, ...lines(56, 57)], 'contradicted', 'contradicted'],
  ['it shifts', [shifts], 'unproven', 'leans against'],
  [
    'it shifts and leaks all the same',
    [shifts, runs, ...readable, ...suctionUsual, ...lines(56, 75)],
    'proven',
    'proven, with the doubt named',
  ],
];
test.each(rows)('reversing valve: %s', (_name, signs, standing, reason) => {
  const verdict = weigh(
    makeEvidence('heat_pump', { refrigerant: 'R-410A', compressorMotor: 'psc' }, signs),
  );
  expect([verdict.standing, verdict.reason]).toEqual([standing, reason]);
});

test('a condensing unit has no reversing valve', () => {
  expect(weigh(outdoorUnit([stays, fed]))).toMatchObject({
    standing: 'not_applicable',
    reason: 'this fault is not found on a condensing unit',
  });
});

function weigh(evidence: Evidence): Verdict {
  return evidenceRulesets[currentEvidenceRuleset].weigh('stuck_reversing_valve', evidence);
}
