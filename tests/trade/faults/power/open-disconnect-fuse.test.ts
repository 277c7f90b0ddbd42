import { expect, test } from 'vitest';
import {
  currentEvidenceRuleset,
  type Evidence,
  evidenceRulesets,
  type Verdict,
} from '../../../../src/trade/index.ts';
import { outdoorUnit, type Sign, saw, volts } from '../../make-evidence.ts';

type Row = [name: string, signs: Sign[], standing: Verdict['standing'], reason: string];

const foundOn = saw('disconnect_found_open', 'no');
const passage = [volts('disconnect_line_side', 240), volts('line_supply', 0.3)];
const first = (value: number) => volts('disconnect_fuse_1', value);
const second = (value: number) => volts('disconnect_fuse_2', value);

const rows: Row[] = [
  ['nothing recorded', [], 'unproven', 'nothing recorded'],
  ['a pulled fuse reads open', [saw('disconnect_fuse_reads_open')], 'proven', 'proven'],
  [
    'every pulled fuse reads closed',
    [saw('disconnect_fuse_reads_open', 'no')],
    'contradicted',
    'contradicted',
  ],
  ['238 V across the first fuse', [first(238)], 'proven', 'proven'],
  ['238 V across the second fuse', [first(0.02), second(238)], 'proven', 'proven'],
  ['0 V across both', [first(0.02), second(0.01)], 'unproven', 'looked for, no sign found'],
  [
    '20.1 V across one cannot be told from 20 V',
    [first(20.1)],
    'unproven',
    'undecided by this method',
  ],
  [
    '238 V across a fuse of a machine that runs',
    [first(238), saw('compressor_running')],
    'unproven',
    'undecided by this method',
  ],
  [
    '240 V before the disconnect and none behind it, the disconnect on',
    [...passage, foundOn],
    'supported',
    'supported',
  ],
  ['the same, the disconnect not looked at', passage, 'unproven', 'undecided by this method'],
  [
    'the same, the disconnect pulled: that explains it',
    [...passage, saw('disconnect_found_open')],
    'unproven',
    'undecided by this method',
  ],
  [
    'the same, every fuse closed',
    [...passage, foundOn, saw('disconnect_fuse_reads_open', 'no')],
    'contradicted',
    'contradicted',
  ],
];
test.each(rows)('open fuse of the disconnect: %s', (_name, signs, standing, reason) => {
  const verdict = weigh(outdoorUnit(signs));
  expect([verdict.standing, verdict.reason]).toEqual([standing, reason]);
});

function weigh(evidence: Evidence): Verdict {
  return evidenceRulesets[currentEvidenceRuleset].weigh('open_disconnect_fuse', evidence);
}
