import { expect, test } from 'vitest';
import {
  currentEvidenceRuleset,
  evidenceRulesets,
  type Verdict,
} from '../../../../src/trade/index.ts';
import { airHandler, amps, ohms, type Sign, saw, volts } from '../../make-evidence.ts';

const fed = volts('transformer_primary', 120);
const sags = volts('transformer_secondary', 16.2);
const draws = (value: number) => amps('transformer_secondary', value);
const noShort = saw('control_short_looked_for');
const cableSound = saw('control_cable_reads_open');

// 40 VA at 24 V is 1.667 A; a clamp meter of 2 % + 3 counts of 0.01 A reads it to 0.063 A.
const rows: [name: string, signs: Sign[], standing: Verdict['standing'], reason: string][] = [
  ['nothing recorded', [], 'unproven', 'nothing recorded'],
  [
    '2.4 A of 1.67 A and 16.2 V, a short looked for',
    [fed, sags, draws(2.4), noShort, cableSound],
    'proven',
    'proven',
  ],
  [
    'the same, the cable showing some megohms',
    [fed, sags, draws(2.4), noShort, ohms('control_cable', 8_000_000)],
    'proven',
    'proven',
  ],
  ['nobody looked for a short', [fed, sags, draws(2.4), cableSound], 'supported', 'supported'],
  ['the cable not measured', [fed, sags, draws(2.4), noShort], 'supported', 'supported'],
  [
    'a short was looked for and found',
    [fed, sags, draws(2.4), noShort, ohms('control_cable', 0.6)],
    'supported',
    'supported',
  ],
  [
    'made for 240 V and fed with 178 V',
    [volts('transformer_primary', 178), sags, draws(2.4), noShort, cableSound],
    'supported',
    'supported',
  ],
  [
    'what went in was measured half an hour later',
    [
      volts('transformer_primary', 120, { takenAt: '2026-07-14T15:30:00Z' }),
      sags,
      draws(2.4),
      noShort,
      cableSound,
    ],
    'supported',
    'supported',
  ],
  [
    'it sags because little goes in',
    [volts('transformer_primary', 88), sags, draws(2.4), noShort],
    'supported',
    'supported',
  ],
  [
    '1.7 A cannot be told from 1.67 A',
    [fed, sags, draws(1.7), noShort],
    'unproven',
    'undecided by this method',
  ],
  [
    'it carries less than its rating',
    [fed, sags, draws(1.2), noShort],
    'contradicted',
    'contradicted',
  ],
  [
    'it carries more and holds its voltage',
    [fed, volts('transformer_secondary', 24.6), draws(2.4), noShort],
    'unproven',
    'signs disagree',
  ],
  ['it sags, the current not measured', [fed, sags], 'unproven', 'looked for, no sign found'],
];
test.each(rows)('overloaded control transformer: %s', (_name, signs, standing, reason) => {
  const ruleset = evidenceRulesets[currentEvidenceRuleset];
  const verdict = ruleset.weigh('overloaded_transformer', airHandler(signs, { transformerVa: 40 }));
  expect([verdict.standing, verdict.reason]).toEqual([standing, reason]);
});

test('a transformer whose rating nobody recorded is not judged', () => {
  const ruleset = evidenceRulesets[currentEvidenceRuleset];
  const verdict = ruleset.weigh(
    'overloaded_transformer',
    airHandler([fed, sags, draws(2.4), noShort]),
  );
  expect([verdict.standing, verdict.reason]).toEqual(['unproven', 'undecided by this method']);
});
