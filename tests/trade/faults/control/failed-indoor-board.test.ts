import { expect, test } from 'vitest';
import {
  currentEvidenceRuleset,
  evidenceRulesets,
  type Verdict,
} from '../../../../src/trade/index.ts';
import { airHandler, outdoorUnit, type Sign, saw, volts } from '../../make-evidence.ts';

const power = volts('control_supply', 26);
const call = volts('board_fan_call', 25.8);
const line = volts('line_supply', 240);
const lookedAt = saw('board_burnt', 'no');
const silent = volts('blower_supply', 0.4);
const fanStands = saw('indoor_fan_running', 'no');
const testRuns = saw('blower_module_test_runs_motor');
const fed = [power, call, line, lookedAt];

const rows: [name: string, signs: Sign[], standing: Verdict['standing'], reason: string][] = [
  ['nothing recorded', [], 'unproven', 'nothing recorded'],
  ['power and call in, its plugs looked at, no voltage out', [...fed, silent], 'proven', 'proven'],
  ['its plugs not looked at', [power, call, line, silent], 'supported', 'supported'],
  [
    'nobody measured the call',
    [power, line, lookedAt, silent],
    'unproven',
    'undecided by this method',
  ],
  [
    'no call reaches it',
    [power, line, lookedAt, silent, volts('board_fan_call', 0.1)],
    'unproven',
    'looked for, no sign found',
  ],
  [
    'no line voltage to switch',
    [power, call, lookedAt, silent, volts('line_supply', 0.2)],
    'supported',
    'supported',
  ],
  ['it feeds the blower', [...fed, volts('blower_supply', 239)], 'contradicted', 'contradicted'],
  ['a test signal in its place runs the motor', [...fed, fanStands, testRuns], 'proven', 'proven'],
  [
    'a test signal does not run the motor',
    [...fed, fanStands, saw('blower_module_test_runs_motor', 'no')],
    'unproven',
    'looked for, no sign found',
  ],
  [
    'burnt, with a photo: how it looks never settles it',
    [saw('board_burnt', 'yes', { photoSha256: 'a'.repeat(64) })],
    'supported',
    'supported',
  ],
  [
    'burnt, yet the fan runs',
    [saw('board_burnt'), saw('indoor_fan_running')],
    'unproven',
    'signs disagree',
  ],
];
test.each(rows)('failed indoor board: %s', (_name, signs, standing, reason) => {
  const ruleset = evidenceRulesets[currentEvidenceRuleset];
  const verdict = ruleset.weigh('failed_indoor_board', airHandler(signs));
  expect([verdict.standing, verdict.reason]).toEqual([standing, reason]);
});

test('an ECM is not switched by its line voltage, so that voltage tells nothing of the board', () => {
  const ruleset = evidenceRulesets[currentEvidenceRuleset];
  const weigh = (signs: Sign[]) =>
    ruleset.weigh('failed_indoor_board', airHandler(signs, { fanMotor: 'ecm' })).standing;
  expect(weigh([...fed, silent])).toBe('unproven');
  expect(weigh([...fed, volts('blower_supply', 239)])).toBe('unproven');
  expect(weigh([...fed, fanStands, testRuns])).toBe('proven');
});

test('an outdoor unit has no indoor board to blame', () => {
  const ruleset = evidenceRulesets[currentEvidenceRuleset];
  const verdict = ruleset.weigh('failed_indoor_board', outdoorUnit([...fed, silent]));
  expect(verdict.standing).toBe('not_applicable');
});
