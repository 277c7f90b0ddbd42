import { expect, test } from 'vitest';
import {
  currentEvidenceRuleset,
  type Evidence,
  evidenceRulesets,
  exclusionsMissing,
  type Verdict,
} from '../../../../src/trade/index.ts';
import { airHandler, type Sign, saw } from '../../make-evidence.ts';

const stuck = saw('blower_wheel_turns_freely', 'no');
const unblocked = saw('blower_wheel_blocked', 'no');
const psc = { fanMotor: 'psc' } as const;

const rows: [name: string, signs: Sign[], standing: Verdict['standing'], reason: string][] = [
  ['nothing recorded', [], 'unproven', 'nothing recorded'],
  ['the wheel does not turn by hand, nothing blocks it', [stuck, unblocked], 'proven', 'proven'],
  ['it does not turn by hand, nobody looked why', [stuck], 'supported', 'supported'],
  ['something blocks it', [stuck, saw('blower_wheel_blocked')], 'unproven', 'signs disagree'],
  [
    'it did not turn by hand, yet it runs',
    [stuck, unblocked, saw('indoor_fan_running')],
    'unproven',
    'readings disagree, measure again',
  ],
  ['it turns freely', [saw('blower_wheel_turns_freely')], 'contradicted', 'contradicted'],
  ['it runs', [saw('indoor_fan_running')], 'contradicted', 'contradicted'],
  ['a hum alone may be a capacitor', [saw('blower_hums')], 'unproven', 'nothing recorded'],
];
test.each(rows)('seized blower: %s', (_name, signs, standing, reason) => {
  const verdict = weigh(airHandler(signs, psc));
  expect([verdict.standing, verdict.reason]).toEqual([standing, reason]);
});

test.each([{ fanMotor: 'ecm' } as const, {}])(
  'the magnets and the module of an ECM brake a sound wheel: no proof with %j',
  (plate) => {
    expect(weigh(airHandler([stuck, unblocked], plate)).standing).toBe('supported');
  },
);

test('no motor is sold for a wheel that something blocks', () => {
  const missing = (sign: Sign) =>
    exclusionsMissing('seized_blower', airHandler([stuck, sign], psc)).length;
  expect(missing(saw('blower_wheel_blocked'))).toBe(1);
  expect(missing(saw('blower_wheel_blocked', 'unknown'))).toBe(1);
  expect(missing(saw('blower_wheel_blocked', 'no'))).toBe(0);
});

function weigh(evidence: Evidence): Verdict {
  return evidenceRulesets[currentEvidenceRuleset].weigh('seized_blower', evidence);
}
