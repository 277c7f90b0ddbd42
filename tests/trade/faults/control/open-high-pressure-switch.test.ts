import { expect, test } from 'vitest';
import {
  currentEvidenceRuleset,
  evidenceRulesets,
  findFault,
  type Verdict,
} from '../../../../src/trade/index.ts';
import { ohms, outdoorUnit, type Sign, saw, volts } from '../../make-evidence.ts';

const across = (value: number) => volts('high_pressure_switch', value);
const called = volts('outdoor_cooling_call', 25.7);

const rows: [name: string, signs: Sign[], standing: Verdict['standing'], reason: string][] = [
  ['nothing recorded', [], 'unproven', 'nothing recorded'],
  ['found open', [saw('high_pressure_switch_open')], 'proven', 'proven'],
  ['25 V across it', [across(25)], 'proven', 'proven'],
  [
    '20.1 V across it cannot be told from 20 V',
    [across(20.1)],
    'unproven',
    'undecided by this method',
  ],
  ['0 V across it with the call there', [across(0.02), called], 'contradicted', 'contradicted'],
  [
    '0 V across it without a call says nothing',
    [across(0.02), volts('outdoor_cooling_call', 0.1)],
    'unproven',
    'looked for, no sign found',
  ],
  [
    '0.3 ohm through it, the call there',
    [ohms('high_pressure_switch', 0.3), called],
    'contradicted',
    'contradicted',
  ],
  [
    'found closed',
    [saw('high_pressure_switch_open', 'no'), called],
    'contradicted',
    'contradicted',
  ],
  [
    'found open, then 0 V across it with the call there',
    [saw('high_pressure_switch_open'), across(0.02), called],
    'unproven',
    'readings disagree, measure again',
  ],
];
test.each(rows)('open high-pressure switch: %s', (_name, signs, standing, reason) => {
  const ruleset = evidenceRulesets[currentEvidenceRuleset];
  const verdict = ruleset.weigh('open_high_pressure_switch', outdoorUnit(signs));
  expect([verdict.standing, verdict.reason]).toEqual([standing, reason]);
});

test('pushing a high-pressure switch back in can be sold to nobody', () => {
  const fault = findFault('open_high_pressure_switch');
  expect(fault?.remedies.map((remedy) => remedy.remedyClass)).toEqual(['diagnose']);
});
