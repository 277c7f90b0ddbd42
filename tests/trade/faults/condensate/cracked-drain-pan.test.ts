import { expect, test } from 'vitest';
import {
  currentEvidenceRuleset,
  evidenceRulesets,
  type Verdict,
} from '../../../../src/trade/index.ts';
import { airHandler, type Sign, saw, withPhoto } from '../../make-evidence.ts';

const cracked = 'drain_pan_cracked';
const rows: [name: string, signs: Sign[], standing: Verdict['standing'], reason: string][] = [
  ['nothing recorded', [], 'unproven', 'nothing recorded'],
  ['cracked, with a photo', [saw(cracked, 'yes', withPhoto)], 'proven', 'proven'],
  ['cracked, without a photo', [saw(cracked)], 'supported', 'supported'],
  [
    'looked at and whole, though a hairline is easily overlooked',
    [saw(cracked, 'no')],
    'unproven',
    'leans against',
  ],
  ['a full pan alone', [saw('drain_pan_full')], 'unproven', 'nothing recorded'],
  [
    'what the caller thinks',
    [saw(cracked, 'yes', { ...withPhoto, source: 'reported' })],
    'unproven',
    'nothing recorded',
  ],
];
test.each(rows)('cracked drain pan: %s', (_name, signs, standing, reason) => {
  const verdict = evidenceRulesets[currentEvidenceRuleset].weigh(
    'cracked_drain_pan',
    airHandler(signs),
  );
  expect([verdict.standing, verdict.reason]).toEqual([standing, reason]);
});
