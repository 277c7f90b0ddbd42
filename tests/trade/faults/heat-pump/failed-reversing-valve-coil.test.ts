import { expect, test } from 'vitest';
import {
  currentEvidenceRuleset,
  type Evidence,
  evidenceRulesets,
  type Verdict,
} from '../../../../src/trade/index.ts';
import { makeEvidence, ohms, outdoorUnit, type Sign, saw, volts } from '../../make-evidence.ts';

const stays = saw('reversing_valve_shifts', 'no');
const fed = volts('reversing_valve_coil', 25.4);
const readsOpen = saw('reversing_valve_coil_reads_open');
const coil = (value: number) => ohms('reversing_valve_coil', value);

const rows: [name: string, signs: Sign[], standing: Verdict['standing'], reason: string][] = [
  ['nothing recorded', [], 'unproven', 'nothing recorded'],
  ['the coil reads open (OL)', [readsOpen], 'proven', 'proven'],
  ['fed, and the valve stays: the coil or the valve', [fed, stays], 'supported', 'supported'],
  [
    'not fed, and the valve stays',
    [volts('reversing_valve_coil', 0), stays],
    'unproven',
    'looked for, no sign found',
  ],
  ['0.6 ohm', [coil(0.6)], 'supported', 'supported'],
  ['1.9 ohm cannot be told from 2', [coil(1.9)], 'unproven', 'undecided by this method'],
  ['18 ohm', [coil(18)], 'contradicted', 'contradicted'],
  ['18 ohm, fed, and the valve stays', [coil(18), fed, stays], 'contradicted', 'contradicted'],
  ['the valve shifts', [saw('reversing_valve_shifts')], 'contradicted', 'contradicted'],
  [
    'read open and then 18 ohm',
    [readsOpen, coil(18)],
    'unproven',
    'readings disagree, measure again',
  ],
  ['no coil but a broken wire: 900 ohm', [coil(900)], 'unproven', 'looked for, no sign found'],
];
test.each(rows)('coil of the reversing valve: %s', (_name, signs, standing, reason) => {
  const verdict = weigh(makeEvidence('heat_pump', {}, signs));
  expect([verdict.standing, verdict.reason]).toEqual([standing, reason]);
});

test('a condensing unit has no reversing valve', () => {
  expect(weigh(outdoorUnit([readsOpen])).standing).toBe('not_applicable');
});

function weigh(evidence: Evidence): Verdict {
  return evidenceRulesets[currentEvidenceRuleset].weigh('failed_reversing_valve_coil', evidence);
}
