import { expect, test } from 'vitest';
import {
  currentEvidenceRuleset,
  evidenceRulesets,
  type Nameplate,
  type Verdict,
} from '../../../../src/trade/index.ts';
import {
  airHandler,
  condenserNameplate,
  makeEvidence,
  microfarads,
  running,
  type Sign,
  saw,
  withPhoto,
} from '../../make-evidence.ts';

const ruleset = evidenceRulesets[currentEvidenceRuleset];
const blower = 'capacitor_blower';
const bulged = 'capacitor_blower_bulged_or_leaking';
const plate: Nameplate = { capacitorBlowerUf: 10, capacitorTolerancePercent: 5, fanMotor: 'psc' };

// Nameplate 10 uF +/-5 %: 9.50 to 10.50; 10 % below is 9.00. Leads off 1.9 % + 0.02 uF.
const rows: [name: string, signs: Sign[], standing: Verdict['standing'], reason: string][] = [
  ['nothing recorded', [], 'unproven', 'nothing recorded'],
  ['6.1 uF has failed', [microfarads(blower, 6.1)], 'proven', 'proven'],
  // 9.2 +/- 0.195 reaches 9.005 and 9.395.
  ['9.2 uF is out of tolerance, not failed', [microfarads(blower, 9.2)], 'supported', 'supported'],
  // 9.05 +/- 0.192 spans 9.00.
  [
    '9.05 uF is out of tolerance, its failure in doubt',
    [microfarads(blower, 9.05)],
    'supported',
    'supported',
  ],
  ['10.0 uF is inside the label', [microfarads(blower, 10)], 'contradicted', 'contradicted'],
  // 0.91 A at 366 V: 0.91/(2 pi 60 366) = 6.60 uF.
  ['6.6 uF under load has failed', running(blower, 0.91, 366), 'proven', 'proven'],
  ['bulged with a photo', [saw(bulged, 'yes', withPhoto)], 'proven', 'proven'],
  ['bulged without a photo', [saw(bulged)], 'supported', 'supported'],
  [
    'that both outdoor motors start says nothing of the blower',
    [saw('contactor_by_hand_both_start')],
    'unproven',
    'nothing recorded',
  ],
  ['a humming blower alone', [saw('blower_hums')], 'unproven', 'nothing recorded'],
];
test.each(rows)('run capacitor of the blower: %s', (_name, signs, standing, reason) => {
  const verdict = ruleset.weigh('run_capacitor_blower', airHandler(signs, plate));
  expect([verdict.standing, verdict.reason]).toEqual([standing, reason]);
});

test('without the rating on the nameplate of the indoor machine nothing is judged', () => {
  const verdict = ruleset.weigh('run_capacitor_blower', airHandler([microfarads(blower, 6.1)]));
  expect([verdict.standing, verdict.reason]).toEqual(['unproven', 'undecided by this method']);
});

test('an ECM blower has no run capacitor', () => {
  const verdict = ruleset.weigh('run_capacitor_blower', airHandler([], { fanMotor: 'ecm' }));
  expect([verdict.standing, verdict.reason]).toEqual([
    'not_applicable',
    'an ECM blower motor has no run capacitor',
  ]);
});

test('a package unit names its outdoor fan motor: that one being an ECM excludes nothing here', () => {
  const named = { ...condenserNameplate, fanMotor: 'ecm', capacitorBlowerUf: 10 } as const;
  const evidence = makeEvidence('package_unit', named, [microfarads(blower, 6.1)]);
  expect(ruleset.weigh('run_capacitor_blower', evidence).standing).toBe('proven');
});
