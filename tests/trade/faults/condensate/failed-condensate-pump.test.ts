import { expect, test } from 'vitest';
import {
  currentEvidenceRuleset,
  evidenceRulesets,
  exclusionsMissing,
  type Verdict,
} from '../../../../src/trade/index.ts';
import { airHandler, type Sign, saw, volts } from '../../make-evidence.ts';

const ruleset = evidenceRulesets[currentEvidenceRuleset];
const runs = saw('condensate_pump_runs_when_filled');
const stands = saw('condensate_pump_runs_when_filled', 'no');
const supply = (value: number) => volts('condensate_pump_supply', value);

// Common practice, no source: from 100 V a pump is fed, below 20 V it is not. A multimeter of
// 1 % + 3 counts reads 101 V to 1.31 V.
const rows: [name: string, signs: Sign[], standing: Verdict['standing'], reason: string][] = [
  ['nothing recorded', [], 'unproven', 'nothing recorded'],
  ['fed, filled and it stands', [stands, supply(119)], 'proven', 'proven'],
  ['fed with 230 V, filled and it stands', [stands, supply(231)], 'proven', 'proven'],
  ['filled and it stands, its supply not measured', [stands], 'supported', 'supported'],
  ['101 V cannot be told from 100 V', [stands, supply(101)], 'supported', 'supported'],
  [
    'unplugged: a sound one would not run either',
    [stands, supply(0)],
    'unproven',
    'signs disagree',
  ],
  [
    'filled while its outlet was dead, fed half an hour later',
    [stands, volts('condensate_pump_supply', 120, { takenAt: '2026-07-14T15:30:00Z' })],
    'supported',
    'supported',
  ],
  [
    'its outlet was dead as it was filled, and was switched on at once',
    [stands, supply(0), volts('condensate_pump_supply', 120, { takenAt: '2026-07-14T15:05:00Z' })],
    'supported',
    'supported',
  ],
  ['it runs when filled', [runs, supply(119)], 'contradicted', 'contradicted'],
  [
    'a full pan alone says nothing of the pump',
    [saw('drain_pan_full')],
    'unproven',
    'nothing recorded',
  ],
  ['its voltage alone says nothing of it', [supply(119)], 'unproven', 'looked for, no sign found'],
];
test.each(rows)('failed condensate pump: %s', (_name, signs, standing, reason) => {
  const verdict = ruleset.weigh('failed_condensate_pump', airHandler(signs));
  expect([verdict.standing, verdict.reason]).toEqual([standing, reason]);
});

test('it is not replaced before its voltage was measured', () => {
  expect(exclusionsMissing('failed_condensate_pump', airHandler([stands]))).toHaveLength(1);
  expect(exclusionsMissing('failed_condensate_pump', airHandler([stands, supply(119)]))).toEqual(
    [],
  );
});
