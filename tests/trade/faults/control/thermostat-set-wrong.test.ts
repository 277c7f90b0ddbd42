import { expect, test } from 'vitest';
import {
  currentEvidenceRuleset,
  evidenceRulesets,
  type Verdict,
} from '../../../../src/trade/index.ts';
import { airHandler, type Sign, saw } from '../../make-evidence.ts';

const wrong = saw('thermostat_set_wrong');
const starts = saw('thermostat_starts_when_set');
const doesNotStart = saw('thermostat_starts_when_set', 'no');

const rows: [name: string, signs: Sign[], standing: Verdict['standing'], reason: string][] = [
  ['nothing recorded', [], 'unproven', 'nothing recorded'],
  ['found set wrong, and set right the cooling starts', [wrong, starts], 'proven', 'proven'],
  ['found set wrong, nobody waited', [wrong], 'supported', 'supported'],
  ['set right it still does not start', [wrong, doesNotStart], 'unproven', 'signs disagree'],
  ['found set right', [saw('thermostat_set_wrong', 'no')], 'contradicted', 'contradicted'],
  [
    'that it starts says nothing of how it was found',
    [starts],
    'unproven',
    'looked for, no sign found',
  ],
  [
    'what the caller said',
    [saw('thermostat_set_wrong', 'yes', { source: 'reported' })],
    'unproven',
    'nothing recorded',
  ],
];
test.each(rows)('thermostat set wrong: %s', (_name, signs, standing, reason) => {
  const ruleset = evidenceRulesets[currentEvidenceRuleset];
  const verdict = ruleset.weigh('thermostat_set_wrong', airHandler(signs));
  expect([verdict.standing, verdict.reason]).toEqual([standing, reason]);
});
