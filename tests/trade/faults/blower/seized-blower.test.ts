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
const psc = { fanMotor: 'psc' } as const;

const rows: [name: string, signs: Sign[], standing: Verdict['standing'], reason: string][] = [
  ['nothing recorded', [], 'unproven', 'nothing recorded'],
  ['the wheel does not turn by hand', [stuck], 'proven', 'proven'],
  [
    'something blocks it',
    [stuck, saw('blower_wheel_blocked')],
    'proven',
    'proven, with the doubt named',
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
    expect(weigh(airHandler([stuck], plate)).standing).toBe('supported');
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
