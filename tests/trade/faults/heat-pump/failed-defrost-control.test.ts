import { expect, test } from 'vitest';
import {
  currentEvidenceRuleset,
  type Evidence,
  evidenceRulesets,
  exclusionsMissing,
  type Nameplate,
  type Verdict,
} from '../../../../src/trade/index.ts';
import { degF } from '../../make-circuit.ts';
import { makeEvidence, ohms, outdoorUnit, type Sign, saw, volts } from '../../make-evidence.ts';

// Invented: 10,000 ohm at 77 F with beta 3950 K, which at 24 F is 42,705 ohm, at 32 F 33,621 ohm
// and at 88 F 7,664 ohm (worked by hand).
const plate: Nameplate = { sensorOhmsAt77F: 10_000, sensorBetaK: 3950 };
const noDefrost = saw('defrost_starts_when_forced', 'no');
const called = volts('outdoor_cooling_call', 25);
const sensor = (value: number, at = 24) => [ohms('coil_sensor', value), degF('coil_sensor', at)];
const shifts = saw('reversing_valve_shifts');
const runs = saw('compressor_running');
const iced = saw('outdoor_coil_iced_in_heating');

const rows: [name: string, signs: Sign[], standing: Verdict['standing'], reason: string][] = [
  ['nothing recorded', [], 'unproven', 'nothing recorded'],
  [
    'forced without effect, all else excluded',
    [noDefrost, called, ...sensor(43_000), shifts, runs],
    'proven',
    'proven',
  ],
  [
    'its coil is at 88 F, and a board starts no defrost then',
    [noDefrost, called, ...sensor(7_650, 88), shifts, runs],
    'supported',
    'supported',
  ],
  [
    'its coil is at 32 F, too near to tell',
    [noDefrost, called, ...sensor(33_600, 32), shifts, runs],
    'supported',
    'supported',
  ],
  ['forced without effect, nothing else looked at', [noDefrost], 'supported', 'supported'],
  [
    'its sensor is far off',
    [noDefrost, called, ...sensor(60_000), shifts, runs],
    'supported',
    'supported',
  ],
  [
    'the reversing valve stays too',
    [noDefrost, called, ...sensor(43_000), saw('reversing_valve_shifts', 'no'), runs],
    'supported',
    'supported',
  ],
  ['the coil is thick with ice', [iced], 'supported', 'supported'],
  ['a forced defrost starts', [saw('defrost_starts_when_forced')], 'unproven', 'leans against'],
  [
    'iced, and a forced defrost starts',
    [iced, saw('defrost_starts_when_forced')],
    'unproven',
    'signs disagree',
  ],
];
test.each(rows)('defrost control: %s', (_name, signs, standing, reason) => {
  const verdict = weigh(makeEvidence('heat_pump', plate, signs));
  expect([verdict.standing, verdict.reason]).toEqual([standing, reason]);
});

test('without the table of its sensor the board is never proven', () => {
  const signs = [noDefrost, called, ...sensor(43_000), shifts, runs];
  expect(weigh(makeEvidence('heat_pump', {}, signs)).standing).toBe('supported');
});

test('a board is not sold before its sensor and the valve were looked at', () => {
  const missing = (signs: Sign[]) =>
    exclusionsMissing('failed_defrost_control', makeEvidence('heat_pump', plate, signs)).length;
  expect(missing([noDefrost])).toBe(2);
  expect(missing([noDefrost, ...sensor(43_000), shifts])).toBe(0);
});

test('a condensing unit never defrosts', () => {
  expect(weigh(outdoorUnit([noDefrost])).standing).toBe('not_applicable');
});

function weigh(evidence: Evidence): Verdict {
  return evidenceRulesets[currentEvidenceRuleset].weigh('failed_defrost_control', evidence);
}
