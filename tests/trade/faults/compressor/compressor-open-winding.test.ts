import { expect, test } from 'vitest';
import {
  currentEvidenceRuleset,
  type Evidence,
  evidenceRulesets,
  exclusionsMissing,
  type Verdict,
} from '../../../../src/trade/index.ts';
import { atMinute, degF } from '../../make-circuit.ts';
import {
  airHandler,
  amps,
  microfarads,
  ohms,
  outdoorUnit,
  type Sign,
  saw,
  volts,
} from '../../make-evidence.ts';

const commonOpen = (minute = 0) =>
  saw('compressor_common_reads_open', 'yes', { at: atMinute(minute) });
const cooledDown = (minute: number) =>
  saw('compressor_cooled_down', 'yes', { at: atMinute(minute) });
const shell = (value: number, minute = 0) => degF('compressor_shell', value, minute);
const commonRun = ohms('compressor_c_to_r', 0.8);
const commonStart = ohms('compressor_c_to_s', 2.1);
const runStart = ohms('compressor_r_to_s', 2.9);
const runStartOpen = saw('compressor_run_to_start_reads_open');
const leadsOff = saw('compressor_to_ground_reads_open');
const soundCapacitor = microfarads('capacitor_herm', 45);

const rows: [name: string, signs: Sign[], standing: Verdict['standing'], reason: string][] = [
  ['nothing recorded', [], 'unproven', 'nothing recorded'],
  [
    'open from run to start, whatever the overload does',
    [runStartOpen, leadsOff],
    'proven',
    'proven',
  ],
  [
    'open from run to start, and common leads to one winding only',
    [runStartOpen, commonRun],
    'proven',
    'proven',
  ],
  ['open from run to start at a plug that may be burnt', [runStartOpen], 'supported', 'supported'],
  [
    'open from run to start though common leads to both: that cannot be',
    [runStartOpen, commonRun, commonStart],
    'unproven',
    'readings disagree, measure again',
  ],
  [
    'common open with a hot shell is the overload and proves nothing',
    [commonOpen(), shell(190)],
    'unproven',
    'undecided by this method',
  ],
  [
    'common open with a cool shell right after short starts proves nothing',
    [commonOpen(), shell(95)],
    'unproven',
    'undecided by this method',
  ],
  [
    'common still open after cooling, shell cool',
    [commonOpen(), shell(190), cooledDown(165), commonOpen(166), shell(96, 166), soundCapacitor],
    'proven',
    'proven',
  ],
  [
    'its overload is given minutes, not hours',
    [commonOpen(), cooledDown(12), commonOpen(12), shell(92, 12), soundCapacitor],
    'supported',
    'supported',
  ],
  [
    'a weak run capacitor trips the overload at every try',
    [
      commonOpen(),
      cooledDown(165),
      commonOpen(166),
      shell(96, 166),
      microfarads('capacitor_herm', 12),
    ],
    'supported',
    'supported',
  ],
  [
    'it hummed in between, so its overload had closed',
    [
      commonOpen(),
      saw('compressor_hums', 'yes', { at: atMinute(100) }),
      cooledDown(165),
      commonOpen(166),
      shell(96, 166),
      soundCapacitor,
    ],
    'supported',
    'supported',
  ],
  [
    'it drew current in between, so its overload had closed',
    [
      commonOpen(),
      amps('compressor_common', 105, { takenAt: atMinute(100) }),
      cooledDown(165),
      commonOpen(166),
      shell(96, 166),
      soundCapacitor,
    ],
    'supported',
    'supported',
  ],
  [
    'common read open, and then closed by the ohms',
    [
      commonOpen(),
      cooledDown(165),
      commonOpen(166),
      shell(96, 166),
      soundCapacitor,
      ohms('compressor_c_to_r', 0.8, { takenAt: atMinute(170) }),
      ohms('compressor_c_to_s', 2.1, { takenAt: atMinute(170) }),
    ],
    'supported',
    'supported',
  ],
  [
    'common still open after cooling, nobody measured the shell',
    [commonOpen(), cooledDown(45), commonOpen(46)],
    'supported',
    'supported',
  ],
  [
    'common still open after cooling, shell still hot',
    [cooledDown(45), commonOpen(46), shell(140, 46)],
    'supported',
    'supported',
  ],
  [
    'common open, then cooled, and not read again',
    [commonOpen(), cooledDown(45), shell(96, 46)],
    'unproven',
    'undecided by this method',
  ],
  [
    'common closed again once it had cooled',
    [
      commonOpen(),
      cooledDown(45),
      saw('compressor_common_reads_open', 'no', { at: atMinute(46) }),
      shell(96, 46),
    ],
    'unproven',
    'looked for, no sign found',
  ],
  [
    'all three windings closed and adding up',
    [commonRun, commonStart, runStart],
    'contradicted',
    'contradicted',
  ],
  [
    'only run to start closed: common may still be open',
    [runStart],
    'unproven',
    'undecided by this method',
  ],
  [
    'three windings that do not add up',
    [commonRun, commonStart, ohms('compressor_r_to_s', 6)],
    'unproven',
    'undecided by this method',
  ],
  [
    'run to start read open and closed',
    [runStartOpen, commonRun, commonStart, runStart],
    'unproven',
    'readings disagree, measure again',
  ],
  ['it runs', [saw('compressor_running')], 'contradicted', 'contradicted'],
  [
    'it runs though it was read open',
    [runStartOpen, leadsOff, saw('compressor_running')],
    'unproven',
    'readings disagree, measure again',
  ],
];
test.each(rows)('open winding: %s', (_name, signs, standing, reason) => {
  const verdict = weigh(outdoorUnit(signs));
  expect([verdict.standing, verdict.reason]).toEqual([standing, reason]);
});

test.each([
  [{ compressorMotor: 'inverter' }, 'an inverter drives the compressor'],
  [{ compressorMotor: 'three_phase' }, 'a three-phase compressor has three windings alike'],
  [{ phase: 3 }, 'a three-phase compressor has three windings alike'],
] as const)('windings that these rules do not fit are not judged: %o', (nameplate, reason) => {
  const evidence = outdoorUnit([saw('compressor_run_to_start_reads_open')], nameplate);
  expect(weigh(evidence)).toMatchObject({
    standing: 'not_applicable',
    reason: expect.stringContaining(reason),
  });
});

test('an air handler has no compressor', () => {
  expect(weigh(airHandler([])).standing).toBe('not_applicable');
});

test('a compressor is not sold before the supply was measured and the overload could close', () => {
  const evidence = (signs: Sign[]) => outdoorUnit(signs);
  expect(exclusionsMissing('compressor_open_winding', evidence([commonOpen()]))).toHaveLength(2);
  const done = [volts('line_supply', 240), cooledDown(45)];
  expect(exclusionsMissing('compressor_open_winding', evidence(done))).toEqual([]);
});

function weigh(evidence: Evidence): Verdict {
  return evidenceRulesets[currentEvidenceRuleset].weigh('compressor_open_winding', evidence);
}
