import { expect, test } from 'vitest';
import {
  currentEvidenceRuleset,
  type Evidence,
  evidenceRulesets,
  exclusionsMissing,
  type Nameplate,
  type Verdict,
} from '../../../../src/trade/index.ts';
import {
  airHandler,
  amps,
  condenserNameplate,
  makeEvidence,
  microfarads,
  ohms,
  type Sign,
  saw,
  volts,
} from '../../make-evidence.ts';

const plate: Nameplate = {
  fanMotor: 'psc',
  fanFlaAmps: 3.6,
  capacitorBlowerUf: 10,
  capacitorTolerancePercent: 5,
  supplyVoltsMin: 197,
  supplyVoltsMax: 253,
};
const stands = saw('indoor_fan_running', 'no');
const runs = saw('indoor_fan_running');
const hums = saw('blower_hums');
const free = saw('blower_wheel_turns_freely');
const fed = volts('blower_supply', 236);
const saidFed = saw('blower_called_and_fed');
const sound = microfarads('capacitor_blower', 10);
const open = saw('blower_winding_reads_open');
const current = (value: number) => amps('blower_lead', value);

// Plate: 197 to 253 V, 3.6 A, 10 uF +/-5 %.
const rows: [name: string, signs: Sign[], standing: Verdict['standing'], reason: string][] = [
  ['nothing recorded', [], 'unproven', 'nothing recorded'],
  ['its winding, cold, reads open', [open], 'proven', 'proven'],
  [
    'fed, free, a sound capacitor, and it hums',
    [stands, hums, fed, free, sound],
    'proven',
    'proven',
  ],
  ['the same, fed by word only', [stands, hums, saidFed, free, sound], 'proven', 'proven'],
  [
    'a measured voltage says more than a word',
    [stands, hums, saidFed, volts('blower_supply', 0.3), free, sound],
    'unproven',
    'looked for, no sign found',
  ],
  ['it draws current and stands', [stands, current(5.2), fed, free, sound], 'proven', 'proven'],
  [
    'it draws nothing: its overload may be open in the heat',
    [stands, current(0), fed, free, sound],
    'supported',
    'supported',
  ],
  [
    'a wheel that does not turn is a seized blower',
    [stands, hums, fed, sound, saw('blower_wheel_turns_freely', 'no')],
    'supported',
    'supported',
  ],
  [
    'a weak capacitor is the cause',
    [stands, hums, fed, free, microfarads('capacitor_blower', 4)],
    'unproven',
    'looked for, no sign found',
  ],
  [
    'neither called nor fed',
    [stands, saw('blower_called_and_fed', 'no'), free, sound],
    'unproven',
    'looked for, no sign found',
  ],
  [
    'it stood uncalled, and draws its amps once called',
    [
      saw('indoor_fan_running', 'no', { at: '2026-07-14T14:30:00Z' }),
      volts('board_fan_call', 0.1, { takenAt: '2026-07-14T14:40:00Z' }),
      current(5.2),
      fed,
      free,
      sound,
    ],
    'unproven',
    'undecided by this method',
  ],
  [
    'it was seen to stand, yet draws what it draws when it runs',
    [stands, current(2.9), fed, free, sound],
    'unproven',
    'readings disagree, measure again',
  ],
  [
    'its winding reads open and shows ohms once cool',
    [open, ohms('blower_winding', 12, { takenAt: '2026-07-14T16:10:00Z' })],
    'unproven',
    'readings disagree, measure again',
  ],
  ['its winding read open, yet it runs', [open, runs], 'unproven', 'leans against'],
  ['running within its amps', [runs, current(2.9)], 'contradicted', 'contradicted'],
  ['running above its amps', [runs, current(4.4), sound], 'supported', 'supported'],
];
test.each(rows)('blower motor: %s', (_name, signs, standing, reason) => {
  const verdict = weigh(airHandler(signs, plate));
  expect([verdict.standing, verdict.reason]).toEqual([standing, reason]);
});

test('a furnace runs on 120 V where its plate does not say otherwise', () => {
  const { supplyVoltsMin: _min, supplyVoltsMax: _max, ...unsaid } = plate;
  const signs = [stands, hums, volts('blower_supply', 118), free, sound];
  expect(weigh(makeEvidence('furnace', unsaid, signs)).standing).toBe('proven');
  expect(weigh(makeEvidence('air_handler', unsaid, signs)).standing).toBe('unproven');
});

test('an ECM blower is judged with its module', () => {
  expect(weigh(airHandler([open], { fanMotor: 'ecm' }))).toMatchObject({
    standing: 'not_applicable',
    reason: 'an ECM blower is driven by its module, and is judged with it',
  });
});

test('the fan motor on the plate of a package unit is not its blower: nothing is proven by it', () => {
  const evidence = makeEvidence('package_unit', condenserNameplate, [open]);
  expect(weigh(evidence).standing).toBe('supported');
});

test('the motor is not sold before voltage, capacitor and wheel were looked at', () => {
  const missing = (signs: Sign[]) =>
    exclusionsMissing('failed_blower_motor', airHandler(signs, plate)).length;
  expect(missing([])).toBe(3);
  expect(missing([open])).toBe(2);
  expect(missing([fed, free, sound])).toBe(0);
});

function weigh(evidence: Evidence): Verdict {
  return evidenceRulesets[currentEvidenceRuleset].weigh('failed_blower_motor', evidence);
}
