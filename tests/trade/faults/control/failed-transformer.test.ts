import { expect, test } from 'vitest';
import {
  currentEvidenceRuleset,
  evidenceRulesets,
  type Verdict,
} from '../../../../src/trade/index.ts';
import { airHandler, ohms, type Sign, saw, volts } from '../../make-evidence.ts';

const fed = volts('transformer_primary', 121);
const dead = volts('transformer_secondary', 0.1);
const buttonIn = saw('transformer_button_out', 'no');
const fuseGood = saw('control_fuse_reads_open', 'no');

// The lowest utilization voltage of a 120 V circuit is 104 V (from memory of ANSI C84.1, range B).
const rows: [name: string, signs: Sign[], standing: Verdict['standing'], reason: string][] = [
  ['nothing recorded', [], 'unproven', 'nothing recorded'],
  [
    '121 V in, 0 V out, the fuse good, no button out',
    [fed, dead, fuseGood, buttonIn],
    'proven',
    'proven',
  ],
  ['nobody looked for a button of its own', [fed, dead, fuseGood], 'supported', 'supported'],
  [
    'its own button is out',
    [fed, dead, fuseGood, saw('transformer_button_out')],
    'supported',
    'supported',
  ],
  [
    'measured dead before the reset, and what goes in after it',
    [
      saw('breaker_found_tripped'),
      dead,
      fuseGood,
      buttonIn,
      volts('transformer_primary', 121, { takenAt: '2026-07-14T15:30:00Z' }),
    ],
    'unproven',
    'undecided by this method',
  ],
  [
    'the same, the fuse good by its resistance',
    [fed, dead, buttonIn, ohms('control_fuse', 0.2)],
    'proven',
    'proven',
  ],
  ['the fuse not tested', [fed, dead, buttonIn], 'supported', 'supported'],
  [
    'the fuse open: a short may hang on it',
    [fed, dead, buttonIn, saw('control_fuse_reads_open')],
    'supported',
    'supported',
  ],
  [
    'nothing goes in',
    [volts('transformer_primary', 0.4), dead, fuseGood],
    'unproven',
    'looked for, no sign found',
  ],
  ['nobody measured what goes in', [dead, fuseGood], 'unproven', 'undecided by this method'],
  [
    '105 V in cannot be told from 104 V',
    [volts('transformer_primary', 105), dead, fuseGood],
    'unproven',
    'undecided by this method',
  ],
  [
    'it gives 26 V',
    [fed, volts('transformer_secondary', 26), fuseGood],
    'contradicted',
    'contradicted',
  ],
  ['the board has its 24 V', [volts('control_supply', 25.5)], 'contradicted', 'contradicted'],
  [
    'it gives 12 V: it is not dead',
    [fed, volts('transformer_secondary', 12), fuseGood],
    'unproven',
    'looked for, no sign found',
  ],
];
test.each(rows)('failed control transformer: %s', (_name, signs, standing, reason) => {
  const ruleset = evidenceRulesets[currentEvidenceRuleset];
  const verdict = ruleset.weigh('failed_transformer', airHandler(signs));
  expect([verdict.standing, verdict.reason]).toEqual([standing, reason]);
});
