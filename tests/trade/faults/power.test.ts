import { expect, test } from 'vitest';
import {
  currentEvidenceRuleset,
  evidenceRulesets,
  type Verdict,
} from '../../../src/trade/index.ts';
import { outdoorUnit, type Sign, saw, volts } from '../make-evidence.ts';

const tripped = 'breaker_found_tripped';

const rows: [name: string, signs: Sign[], standing: Verdict['standing'], reason: string][] = [
  ['nothing recorded', [], 'unproven', 'nothing recorded'],
  ['its handle found between ON and OFF', [saw(tripped)], 'proven', 'proven'],
  ['found on', [saw(tripped, 'no')], 'contradicted', 'contradicted'],
  ['it trips again after a reset', [saw('breaker_trips_again')], 'supported', 'supported'],
  ['no line voltage at the unit', [volts('line_supply', 0.4)], 'supported', 'supported'],
  [
    'line voltage at the unit says nothing for it',
    [volts('line_supply', 241)],
    'unproven',
    'looked for, no sign found',
  ],
  [
    'no line voltage, breaker found on',
    [volts('line_supply', 0.4), saw(tripped, 'no')],
    'contradicted',
    'contradicted',
  ],
  [
    'the customer says it tripped',
    [saw(tripped, 'yes', { source: 'reported' })],
    'unproven',
    'nothing recorded',
  ],
];
test.each(rows)('tripped breaker: %s', (_name, signs, standing, reason) => {
  const ruleset = evidenceRulesets[currentEvidenceRuleset];
  const verdict = ruleset.weigh('tripped_breaker', outdoorUnit(signs));
  expect([verdict.standing, verdict.reason]).toEqual([standing, reason]);
});

test('that a breaker tripped again is told with what follows: it stays off until it is mended', () => {
  const evidence = outdoorUnit([saw(tripped), saw('breaker_trips_again')]);
  const verdict = evidenceRulesets[currentEvidenceRuleset].weigh('tripped_breaker', evidence);
  const met = verdict.criteria.filter(({ outcome }) => outcome === 'met');
  expect(met.map(({ statement }) => statement)).toEqual([
    'The breaker was found tripped.',
    'The breaker tripped again after a reset; it therefore stays off until the cause is mended.',
  ]);
});
