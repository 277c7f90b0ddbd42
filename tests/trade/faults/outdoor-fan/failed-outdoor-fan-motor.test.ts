import { describe, expect, test } from 'vitest';
import {
  currentEvidenceRuleset,
  type Evidence,
  evidenceRulesets,
  exclusionsMissing,
  type Verdict,
} from '../../../../src/trade/index.ts';
import { amps, microfarads, outdoorUnit, type Sign, saw, volts } from '../../make-evidence.ts';

const stands = saw('outdoor_fan_running', 'no');
const runs = saw('outdoor_fan_running');
const hums = saw('outdoor_fan_hums');
const free = saw('outdoor_fan_turns_freely');
const stiff = saw('outdoor_fan_turns_freely', 'no');
const fed = volts('outdoor_fan_supply', 238);
const sound = microfarads('capacitor_fan', 5);
const weak = microfarads('capacitor_fan', 2.1);
const current = (value: number) => amps('outdoor_fan_lead', value);
const open = saw('outdoor_fan_winding_reads_open');

// Plate: 197 to 253 V, fan 1.1 A, 5 uF +/-6 %. A clamp of 2 % + 3 counts reads 1.6 A to 0.062 A.
const rows: [name: string, signs: Sign[], standing: Verdict['standing'], reason: string][] = [
  ['nothing recorded', [], 'unproven', 'nothing recorded'],
  ['its winding, cold, reads open', [open], 'proven', 'proven'],
  [
    'fed, free, a sound capacitor, and it hums',
    [stands, hums, fed, free, sound],
    'proven',
    'proven',
  ],
  ['the same, seen only as a hum', [hums, fed, free, sound], 'proven', 'proven'],
  ['the same, by its current', [stands, current(1.9), fed, free, sound], 'proven', 'proven'],
  [
    'it draws nothing: its overload may be open in the heat',
    [stands, current(0), fed, free, sound],
    'supported',
    'supported',
  ],
  [
    'fed, a sound capacitor, no current taken',
    [stands, fed, free, sound],
    'supported',
    'supported',
  ],
  [
    'its capacitor is weak: that is the cause',
    [stands, hums, fed, free, weak],
    'unproven',
    'looked for, no sign found',
  ],
  ['its capacitor not measured', [stands, hums, fed, free], 'unproven', 'undecided by this method'],
  [
    'no voltage at the motor: look upstream',
    [stands, volts('outdoor_fan_supply', 0.4), free, sound],
    'unproven',
    'looked for, no sign found',
  ],
  [
    '198 V cannot be told from 197 V',
    [stands, hums, volts('outdoor_fan_supply', 198), free, sound],
    'unproven',
    'undecided by this method',
  ],
  [
    'it does not turn by hand and nothing blocks it',
    [stiff, saw('outdoor_fan_blade_blocked', 'no')],
    'proven',
    'proven',
  ],
  ['it does not turn by hand, nobody looked why', [stiff], 'supported', 'supported'],
  [
    'a blocked blade stops a sound motor',
    [stiff, saw('outdoor_fan_blade_blocked')],
    'supported',
    'supported',
  ],
  ['running above its full-load amps', [runs, current(1.6), sound], 'supported', 'supported'],
  ['running within its amps', [runs, current(0.9)], 'contradicted', 'contradicted'],
  ['running, not measured', [runs], 'unproven', 'leans against'],
  ['both motors start by hand', [saw('contactor_by_hand_both_start')], 'unproven', 'leans against'],
  ['it stands, nothing else known', [stands], 'unproven', 'undecided by this method'],
];
test.each(rows)('outdoor fan motor: %s', (_name, signs, standing, reason) => {
  const verdict = weigh(outdoorUnit(signs));
  expect([verdict.standing, verdict.reason]).toEqual([standing, reason]);
});

describe('an ECM hides its windings and may wait for its signal', () => {
  const ecm = { fanMotor: 'ecm', capacitorFanUf: undefined } as const;
  test('fed and standing is a sign, not a proof', () => {
    expect(weigh(outdoorUnit([stands, hums, fed, free], ecm)).standing).toBe('supported');
  });
  test('a meter that reads open at its leads is no proof', () => {
    expect(weigh(outdoorUnit([open], ecm)).standing).toBe('supported');
  });
  test('nor at the fan of an inverter unit whose plate does not name the motor', () => {
    const plate = { compressorMotor: 'inverter', fanMotor: undefined } as const;
    expect(weigh(outdoorUnit([open], plate)).standing).toBe('supported');
  });
});

test('the motor is not sold before voltage, capacitor and blade were looked at', () => {
  const missing = (signs: Sign[]) =>
    exclusionsMissing('failed_outdoor_fan_motor', outdoorUnit(signs)).length;
  expect(missing([])).toBe(3);
  expect(missing([open])).toBe(2);
  expect(missing([fed, free])).toBe(1);
  expect(missing([fed, free, sound])).toBe(0);
});

function weigh(evidence: Evidence): Verdict {
  return evidenceRulesets[currentEvidenceRuleset].weigh('failed_outdoor_fan_motor', evidence);
}
