import { expect, test } from 'vitest';
import {
  currentEvidenceRuleset,
  type Evidence,
  evidenceRulesets,
  type Verdict,
} from '../../../../src/trade/index.ts';
import { amps, makeEvidence, outdoorUnit, type Sign, saw, volts } from '../../make-evidence.ts';

type Row = [name: string, signs: Sign[], standing: Verdict['standing'], reason: string];

const runs = saw('compressor_running');
const drop = (value: number) => volts('breaker', value);
const marked = (value: number) => amps('breaker_marking', value, { method: 'marking' });
const draws = (value: number) => amps('compressor_common', value);
const tripsAgain = saw('breaker_trips_again');

// Common practice, no source: a sound closed breaker drops some 0.1 V under load; 0.3 V is too much.
// A multimeter of 1 % + 3 counts reads 0.3 V to 0.006 V, a clamp of 2 % + 3 counts 14.2 A to 0.31 A.
const rows: Row[] = [
  ['nothing recorded', [], 'unproven', 'nothing recorded'],
  ['it drops 0.82 V under load', [runs, drop(0.82)], 'supported', 'supported'],
  ['the same drop with no load on record', [drop(0.82)], 'unproven', 'undecided by this method'],
  [
    '0.304 V cannot be told from 0.3 V',
    [runs, drop(0.304)],
    'unproven',
    'undecided by this method',
  ],
  [
    'line voltage across a breaker that feeds a running machine',
    [runs, drop(240)],
    'unproven',
    'undecided by this method',
  ],
  ['it is hot', [saw('breaker_hot_or_buzzing')], 'supported', 'supported'],
  [
    'it trips again at 14.2 A of its 40 A',
    [tripsAgain, draws(14.2), marked(40)],
    'supported',
    'supported',
  ],
  [
    'it does not hold at 14.2 A of its 40 A',
    [saw('breaker_holds_under_load', 'no'), draws(14.2), marked(40)],
    'supported',
    'supported',
  ],
  [
    'it trips again at 44 A, marked 30 A: it does its job',
    [tripsAgain, draws(44), marked(30)],
    'unproven',
    'leans against',
  ],
  [
    'it trips again at 30.2 A, too near its 30 A',
    [tripsAgain, draws(30.2), marked(30)],
    'unproven',
    'undecided by this method',
  ],
  [
    'it trips again, its marking not on record',
    [tripsAgain, draws(14.2)],
    'unproven',
    'undecided by this method',
  ],
  [
    'it trips again and nothing flows',
    [tripsAgain, draws(0.01), marked(40)],
    'unproven',
    'undecided by this method',
  ],
  [
    'it trips again, only the peak of the start is on record',
    [tripsAgain, amps('compressor_common', 108, { method: 'clamp_meter_inrush' }), marked(40)],
    'unproven',
    'nothing recorded',
  ],
  [
    '14.2 A of its 40 A and no trip',
    [draws(14.2), marked(40)],
    'unproven',
    'looked for, no sign found',
  ],
  [
    'it holds with everything running',
    [saw('breaker_holds_under_load')],
    'unproven',
    'leans against',
  ],
  ['it drops 0.05 V under load', [runs, drop(0.05)], 'unproven', 'leans against'],
  [
    '0.05 V with only the fan running',
    [saw('outdoor_fan_running'), drop(0.05)],
    'unproven',
    'undecided by this method',
  ],
  [
    'it is hot and holds',
    [saw('breaker_hot_or_buzzing'), saw('breaker_holds_under_load')],
    'unproven',
    'signs disagree',
  ],
  [
    'what the caller heard buzzing',
    [saw('breaker_hot_or_buzzing', 'yes', { source: 'reported' })],
    'unproven',
    'nothing recorded',
  ],
];
test.each(rows)('weak breaker: %s', (_name, signs, standing, reason) => {
  const verdict = weigh(outdoorUnit(signs));
  expect([verdict.standing, verdict.reason]).toEqual([standing, reason]);
});

test('a breaker is never a proven cause, however much speaks for it', () => {
  const all = [tripsAgain, saw('breaker_hot_or_buzzing'), draws(14.2), marked(40), drop(1.9)];
  const verdict = weigh(outdoorUnit(all));
  const speaking = verdict.criteria.filter(({ outcome }) => outcome === 'met');
  expect(speaking.map(({ id }) => id)).toEqual([
    'drop_high',
    'hot_or_buzzing',
    'trips_below_its_marking',
  ]);
  expect(verdict.standing).toBe('supported');
});

test('on a furnace it is the blower that draws through the breaker, and the house fan that loads it', () => {
  const signs = [
    saw('indoor_fan_running'),
    drop(0.9),
    tripsAgain,
    amps('blower_lead', 5.2),
    marked(15),
  ];
  const verdict = weigh(makeEvidence('furnace', {}, signs));
  expect(verdict.criteria.find(({ id }) => id === 'trips_below_its_marking')?.outcome).toBe('met');
  expect(verdict.criteria.find(({ id }) => id === 'drop_high')?.outcome).toBe('met');
});

test('the indoor fan does not load the breaker of the outdoor unit', () => {
  const verdict = weigh(outdoorUnit([saw('indoor_fan_running'), drop(0.9)]));
  expect([verdict.standing, verdict.reason]).toEqual(['unproven', 'undecided by this method']);
});

test('the reason names current, marking and how good the meter is', () => {
  const verdict = weigh(outdoorUnit([tripsAgain, draws(14.2), marked(40)]));
  expect(verdict.criteria.find(({ id }) => id === 'trips_below_its_marking')?.detail).toBe(
    '14.20 A measured by clamp meter; the breaker is marked 40 A; this method is good to 0.31 A.',
  );
});

function weigh(evidence: Evidence): Verdict {
  return evidenceRulesets[currentEvidenceRuleset].weigh('weak_breaker', evidence);
}
