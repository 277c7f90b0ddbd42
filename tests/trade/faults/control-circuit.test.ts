import { expect, test } from 'vitest';
import {
  currentEvidenceRuleset,
  evidenceRulesets,
  type Verdict,
} from '../../../src/trade/index.ts';
import { airHandler, ohms, type Sign, saw, volts, withPhoto } from '../make-evidence.ts';

const readsOpen = 'control_fuse_reads_open';
const seenBlown = 'control_fuse_seen_blown';

const rows: [name: string, signs: Sign[], standing: Verdict['standing'], reason: string][] = [
  ['nothing recorded', [], 'unproven', 'nothing recorded'],
  ['the pulled fuse reads open (OL)', [saw(readsOpen)], 'proven', 'proven'],
  ['the pulled fuse reads closed', [saw(readsOpen, 'no')], 'contradicted', 'contradicted'],
  ['26 V across the fuse', [volts('control_fuse', 26)], 'proven', 'proven'],
  [
    '0 V across the fuse says nothing',
    [volts('control_fuse', 0)],
    'unproven',
    'looked for, no sign found',
  ],
  ['0.2 ohm through the pulled fuse', [ohms('control_fuse', 0.2)], 'contradicted', 'contradicted'],
  [
    '60 ohm through the pulled fuse is no closed fuse',
    [ohms('control_fuse', 60)],
    'unproven',
    'looked for, no sign found',
  ],
  ['its element seen blown, with a photo', [saw(seenBlown, 'yes', withPhoto)], 'proven', 'proven'],
  ['its element seen blown, no photo', [saw(seenBlown)], 'supported', 'supported'],
  [
    'seen blown yet closed by the meter',
    [saw(seenBlown, 'yes', withPhoto), ohms('control_fuse', 0.2)],
    'unproven',
    'readings disagree, measure again',
  ],
];
test.each(rows)('open control fuse: %s', (_name, signs, standing, reason) => {
  const ruleset = evidenceRulesets[currentEvidenceRuleset];
  const verdict = ruleset.weigh('open_control_fuse', airHandler(signs));
  expect([verdict.standing, verdict.reason]).toEqual([standing, reason]);
});
