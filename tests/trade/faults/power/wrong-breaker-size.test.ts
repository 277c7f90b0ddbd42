import { expect, test } from 'vitest';
import {
  currentEvidenceRuleset,
  type Evidence,
  evidenceRulesets,
  type Verdict,
} from '../../../../src/trade/index.ts';
import { amps, outdoorUnit, type Sign, saw } from '../../make-evidence.ts';

type Row = [name: string, signs: Sign[], standing: Verdict['standing'], reason: string];

const marked = (value: number, takenAt = '2026-07-14T15:00:00Z') =>
  amps('breaker_marking', value, { method: 'marking', takenAt });

// The plate of this unit says MCA 23.5 A, MOCP 40 A.
const rows: Row[] = [
  ['nothing recorded', [], 'unproven', 'nothing recorded'],
  ['60 A', [marked(60)], 'supported', 'supported'],
  ['45 A, the next size above the most', [marked(45)], 'supported', 'supported'],
  ['40 A, the most', [marked(40)], 'contradicted', 'contradicted'],
  ['25 A, the next size above the least', [marked(25)], 'contradicted', 'contradicted'],
  ['20 A', [marked(20)], 'supported', 'supported'],
  [
    'a current clamped at the breaker is no marking',
    [amps('breaker_marking', 60)],
    'unproven',
    'undecided by this method',
  ],
  [
    'read as 40 A, then as 60 A',
    [marked(40), marked(60, '2026-07-14T15:05:00Z')],
    'unproven',
    'readings disagree, measure again',
  ],
  [
    '60 A, says the customer',
    [amps('breaker_marking', 60, { method: 'marking', source: 'reported' })],
    'unproven',
    'nothing recorded',
  ],
  [
    'a trip alone says nothing of the size',
    [saw('breaker_trips_again')],
    'unproven',
    'nothing recorded',
  ],
];
test.each(rows)('breaker of the wrong size: %s', (_name, signs, standing, reason) => {
  const verdict = weigh(outdoorUnit(signs));
  expect([verdict.standing, verdict.reason]).toEqual([standing, reason]);
});

test.each([
  ['60 A, the plate without MCA', 60, { mcaAmps: undefined }, 'supported', 'supported'],
  [
    '30 A, the plate without MCA',
    30,
    { mcaAmps: undefined },
    'unproven',
    'undecided by this method',
  ],
  ['20 A, the plate without MOCP', 20, { mocpAmps: undefined }, 'supported', 'supported'],
  [
    '60 A, the plate without MOCP',
    60,
    { mocpAmps: undefined },
    'unproven',
    'undecided by this method',
  ],
] as const)(
  'what the plate does not say is not guessed: %s',
  (_name, breaker, plate, standing, reason) => {
    const verdict = weigh(outdoorUnit([marked(breaker)], plate));
    expect([verdict.standing, verdict.reason]).toEqual([standing, reason]);
  },
);

test('the reason names the marking and the plate', () => {
  const details = weigh(outdoorUnit([marked(60)])).criteria.map(({ detail }) => detail);
  expect(details).toEqual([
    '60 A marked on the breaker; the nameplate allows 40 A at most.',
    '60 A marked on the breaker; the nameplate asks for 23.5 A at least.',
    '60 A marked on the breaker; the nameplate asks for at least 23.5 A (MCA) and at most 40 A (MOCP).',
  ]);
});

function weigh(evidence: Evidence): Verdict {
  return evidenceRulesets[currentEvidenceRuleset].weigh('wrong_breaker_size', evidence);
}
