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
const waited = saw('thermostat_starts_when_set', 'no');
const fed = [power, call, line, lookedAt, waited];
const unwaited = [power, call, line, lookedAt];
const psc = { fanMotor: 'psc' } as const;
const at = (time: string) => ({ takenAt: `2026-07-14T${time}:00Z` });
const seenAt = (time: string) => ({ at: `2026-07-14T${time}:00Z` });
const calling = (time: string) => saw('thermostat_calling_cooling', 'yes', seenAt(time));

const rows: [name: string, signs: Sign[], standing: Verdict['standing'], reason: string][] = [
  ['nothing recorded', [], 'unproven', 'nothing recorded'],
  ['power and call in, its plugs looked at, no voltage out', [...fed, silent], 'proven', 'proven'],
  ['its plugs not looked at', [power, call, line, waited, silent], 'supported', 'supported'],
  ['it may still wait out its delay', [...unwaited, silent], 'supported', 'supported'],
  [
    'four minutes into the call it may still wait',
    [...unwaited, silent, calling('14:56')],
    'supported',
    'supported',
  ],
  [
    'five minutes into the call no delay is left',
    [...unwaited, silent, calling('14:55')],
    'proven',
    'proven',
  ],
  [
    'the call was measured five minutes before',
    [...unwaited, silent, volts('board_fan_call', 25.7, at('14:55'))],
    'proven',
    'proven',
  ],
  [
    'the call began anew when the breaker was reset',
    [...unwaited, silent, calling('14:30'), saw('breaker_found_tripped', 'yes', seenAt('14:58'))],
    'supported',
    'supported',
  ],
  [
    'nothing left it before the call came half an hour later',
    [
      volts('blower_supply', 0.2, at('15:00')),
      volts('control_supply', 26, at('15:30')),
      volts('board_fan_call', 26, at('15:30')),
      volts('line_supply', 240, at('15:30')),
      lookedAt,
      waited,
    ],
    'unproven',
    'undecided by this method',
  ],
  [
    'nothing left it, and later its fan runs',
    [...fed, silent, saw('indoor_fan_running', 'yes', seenAt('15:35'))],
    'unproven',
    'leans against',
  ],
  [
    'nobody measured the call',
    [power, line, lookedAt, waited, silent],
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
    'a test signal runs the motor of a fan that stood before it was called',
    [
      ...fed,
      saw('indoor_fan_running', 'no', seenAt('14:00')),
      saw('thermostat_calling_cooling', 'no', seenAt('14:10')),
      testRuns,
    ],
    'unproven',
    'undecided by this method',
  ],
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
  const verdict = ruleset.weigh('failed_indoor_board', airHandler(signs, psc));
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

test('where the plate does not name the motor, its voltage speaks neither for nor against', () => {
  const ruleset = evidenceRulesets[currentEvidenceRuleset];
  const weigh = (signs: Sign[]) => ruleset.weigh('failed_indoor_board', airHandler(signs));
  expect(weigh([...fed, silent]).standing).toBe('unproven');
  expect(weigh([...fed, volts('blower_supply', 240)]).standing).toBe('unproven');
  const all = [...fed, volts('blower_supply', 240), fanStands, testRuns];
  expect(weigh(all).standing).toBe('proven');
});

test('an outdoor unit has no indoor board to blame', () => {
  const ruleset = evidenceRulesets[currentEvidenceRuleset];
  const verdict = ruleset.weigh('failed_indoor_board', outdoorUnit([...fed, silent]));
  expect(verdict.standing).toBe('not_applicable');
});
