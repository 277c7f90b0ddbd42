import { expect, test } from 'vitest';
import {
  currentEvidenceRuleset,
  type Evidence,
  evidenceRulesets,
  type Verdict,
} from '../../../../src/trade/index.ts';
import { outdoorUnit, type Sign, saw, volts } from '../../make-evidence.ts';

type Row = [name: string, signs: Sign[], standing: Verdict['standing'], reason: string];

const foundOpen = saw('disconnect_found_open');
const foundOn = saw('disconnect_found_open', 'no');
const atUnit = (value: number) => volts('line_supply', value);
const before = (value: number) => volts('disconnect_line_side', value);

const rows: Row[] = [
  ['nothing recorded', [], 'unproven', 'nothing recorded'],
  ['found pulled', [foundOpen], 'proven', 'proven'],
  [
    'found pulled, 241 V at the unit once it is back in',
    [foundOpen, atUnit(241)],
    'proven',
    'proven',
  ],
  ['found on', [foundOn], 'contradicted', 'contradicted'],
  ['240 V before it, none behind it', [before(240), atUnit(0.3)], 'supported', 'supported'],
  [
    '240 V before it, none behind it, yet it is on',
    [before(240), atUnit(0.3), foundOn],
    'contradicted',
    'contradicted',
  ],
  ['none before it either', [before(0.2), atUnit(0.3)], 'unproven', 'looked for, no sign found'],
  [
    'none at the unit, nobody measured before it',
    [atUnit(0.3)],
    'unproven',
    'undecided by this method',
  ],
  [
    '20.1 V before it tells nothing',
    [before(20.1), atUnit(0.3)],
    'unproven',
    'undecided by this method',
  ],
  ['240 V at the unit', [atUnit(240)], 'unproven', 'looked for, no sign found'],
  [
    'the customer pulled it',
    [saw('disconnect_found_open', 'yes', { source: 'reported' })],
    'unproven',
    'nothing recorded',
  ],
];
test.each(rows)('open disconnect: %s', (_name, signs, standing, reason) => {
  const verdict = weigh(outdoorUnit(signs));
  expect([verdict.standing, verdict.reason]).toEqual([standing, reason]);
});

function weigh(evidence: Evidence): Verdict {
  return evidenceRulesets[currentEvidenceRuleset].weigh('open_disconnect', evidence);
}
