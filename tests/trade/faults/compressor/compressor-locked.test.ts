import { expect, test } from 'vitest';
import {
  currentEvidenceRuleset,
  type Evidence,
  evidenceRulesets,
  exclusionsMissing,
  type Verdict,
} from '../../../../src/trade/index.ts';
import { amps, microfarads, outdoorUnit, type Sign, saw, volts } from '../../make-evidence.ts';

const common = (value: number, more = {}) => amps('compressor_common', value, more);
const inrush = (value: number) => common(value, { method: 'clamp_meter_inrush' });
const stands = saw('compressor_running', 'no');
const supply = volts('line_supply', 238);
const soundCapacitor = microfarads('capacitor_herm', 45);
const noHelp = saw('compressor_starts_with_test_start_device', 'no');
const rest = [stands, supply, soundCapacitor, noHelp];

// The plate has 17.9 A rated load and 112 A locked rotor; near locked rotor begins at 84 A.
const rows: [name: string, signs: Sign[], standing: Verdict['standing'], reason: string][] = [
  ['nothing recorded', [], 'unproven', 'nothing recorded'],
  ['108 A, and all else excluded', [common(108), ...rest], 'proven', 'proven'],
  ['the held peak of a start, and all else excluded', [inrush(108), ...rest], 'proven', 'proven'],
  [
    'nobody says whether it turned',
    [inrush(108), supply, soundCapacitor, noHelp],
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
  [
    'the supply not measured',
    [common(108), stands, soundCapacitor, noHelp],
    'supported',
    'supported',
  ],
  [
    'the supply is low',
    [common(108), stands, volts('line_supply', 185), soundCapacitor, noHelp],
    'supported',
    'supported',
  ],
  ['the capacitor not measured', [common(108), stands, supply, noHelp], 'supported', 'supported'],
  [
    'the capacitor is weak',
    [common(108), stands, supply, microfarads('capacitor_herm', 30), noHelp],
    'supported',
    'supported',
  ],
  [
    'no start device tried',
    [common(108), stands, supply, soundCapacitor],
    'supported',
    'supported',
  ],
  [
    'it starts with a start device',
    [common(108), stands, supply, soundCapacitor, saw('compressor_starts_with_test_start_device')],
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

test('a compressor is not sold before supply, capacitor and start device were tried', () => {
  const missing = (signs: Sign[]) =>
    exclusionsMissing('compressor_locked', outdoorUnit(signs)).length;
  expect(missing([common(108), stands])).toBe(3);
  expect(missing([common(108), ...rest])).toBe(0);
});

function weigh(evidence: Evidence): Verdict {
  return evidenceRulesets[currentEvidenceRuleset].weigh('compressor_locked', evidence);
}
