import { expect, test } from 'vitest';
import {
  currentEvidenceRuleset,
  type Evidence,
  evidenceRulesets,
  type Verdict,
} from '../../../../src/trade/index.ts';
import { airHandler, outdoorUnit, type Sign, saw, volts } from '../../make-evidence.ts';

type Row = [name: string, signs: Sign[], standing: Verdict['standing'], reason: string];

const staysClosed = saw('contactor_stays_closed_without_call');
const opens = saw('contactor_stays_closed_without_call', 'no');
const coil = (value: number) => volts('contactor_coil', value);

// Common practice, no source: below 5 V a control wire is dead. 5 V is read to 0.053 V.
const rows: Row[] = [
  ['nothing recorded', [], 'unproven', 'nothing recorded'],
  ['it stays closed', [staysClosed], 'supported', 'supported'],
  ['it stays closed with 0.1 V at its coil', [staysClosed, coil(0.1)], 'proven', 'proven'],
  ['it stays closed, 5.02 V at its coil', [staysClosed, coil(5.02)], 'supported', 'supported'],
  ['said to stay closed, but its coil is fed', [staysClosed, coil(24.8)], 'supported', 'supported'],
  ['it lets go', [opens, coil(0.1)], 'contradicted', 'contradicted'],
  [
    'closed during a call, dead at another time',
    [saw('contactor_pulled_in'), coil(0.1)],
    'unproven',
    'undecided by this method',
  ],
  [
    'found open with a dead coil',
    [saw('contactor_pulled_in', 'no'), coil(0.1)],
    'unproven',
    'leans against',
  ],
  [
    'it stays closed at one time and is open at another',
    [staysClosed, saw('contactor_pulled_in', 'no')],
    'unproven',
    'signs disagree',
  ],
  ['a fed coil', [coil(24.8)], 'unproven', 'looked for, no sign found'],
  [
    'it never stops, says the customer',
    [saw('contactor_stays_closed_without_call', 'yes', { source: 'reported' })],
    'unproven',
    'nothing recorded',
  ],
];
test.each(rows)('stuck contactor: %s', (_name, signs, standing, reason) => {
  const verdict = weigh(outdoorUnit(signs));
  expect([verdict.standing, verdict.reason]).toEqual([standing, reason]);
});

test('a machine without a contactor has none that sticks', () => {
  const signs = [staysClosed, coil(0.1)];
  expect(weigh(airHandler(signs)).standing).toBe('not_applicable');
  expect(weigh(outdoorUnit(signs, { compressorMotor: 'inverter' })).standing).toBe(
    'not_applicable',
  );
});

function weigh(evidence: Evidence): Verdict {
  return evidenceRulesets[currentEvidenceRuleset].weigh('stuck_contactor', evidence);
}
