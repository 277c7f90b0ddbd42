import { expect, test } from 'vitest';
import {
  currentEvidenceRuleset,
  evidenceRulesets,
  exclusionsMissing,
  type Verdict,
} from '../../../../src/trade/index.ts';
import { airHandler, outdoorUnit, type Sign, saw, volts } from '../../make-evidence.ts';

const ruleset = evidenceRulesets[currentEvidenceRuleset];
const dry = saw('drain_pan_dry');
const down = saw('float_switch_raised', 'no');
const raised = saw('float_switch_raised');
const free = saw('float_switch_moves_freely');
const into = volts('float_switch_in', 25.1);
const out = (value: number) => volts('float_switch_out', value);

// Common practice, no source: from 20 V a control wire is fed, below 5 V it is dead. A multimeter
// of 1 % + 3 counts reads 4.99 V to 0.053 V and 20.1 V to 0.231 V.
const rows: [name: string, signs: Sign[], standing: Verdict['standing'], reason: string][] = [
  ['nothing recorded', [], 'unproven', 'nothing recorded'],
  [
    'pan dry, float down and free, 24 V in and none out: supported, never proven',
    [dry, down, free, into, out(0.2)],
    'supported',
    'supported',
  ],
  [
    'the float sticks over a dry pan',
    [dry, saw('float_switch_moves_freely', 'no')],
    'supported',
    'supported',
  ],
  [
    'the float sticks, nobody looked into the pan',
    [saw('float_switch_moves_freely', 'no')],
    'unproven',
    'undecided by this method',
  ],
  ['raised and yet it passes', [raised, into, out(25)], 'supported', 'supported'],
  [
    'raised over a full pan and yet it passes',
    [raised, saw('drain_pan_full'), into, out(25)],
    'supported',
    'supported',
  ],
  ['down and it passes', [down, into, out(25)], 'contradicted', 'contradicted'],
  [
    'it passes, nobody looked at the float',
    [into, out(25)],
    'unproven',
    'undecided by this method',
  ],
  [
    '20.1 V cannot be told from 20 V',
    [down, into, out(20.1)],
    'unproven',
    'undecided by this method',
  ],
  [
    'open over a full pan: it does its work',
    [saw('drain_pan_full'), saw('drain_pan_dry', 'no'), raised, free, into, out(0.2)],
    'unproven',
    'leans against',
  ],
  [
    'no voltage before it: look upstream',
    [dry, down, free, volts('float_switch_in', 0.1), out(0.1)],
    'unproven',
    'looked for, no sign found',
  ],
  [
    'open, the pan not looked into',
    [down, free, into, out(0.2)],
    'unproven',
    'undecided by this method',
  ],
  [
    '4.99 V after it cannot be told from 5 V',
    [dry, down, free, into, out(4.99)],
    'unproven',
    'undecided by this method',
  ],
  [
    'nothing left it at first, and with its float down it passes now',
    [
      dry,
      down,
      free,
      into,
      out(0.2),
      volts('float_switch_out', 25, { takenAt: '2026-07-14T15:10:00Z' }),
    ],
    'contradicted',
    'contradicted',
  ],
];
test.each(rows)('failed float switch: %s', (_name, signs, standing, reason) => {
  const verdict = ruleset.weigh('failed_float_switch', airHandler(signs));
  expect([verdict.standing, verdict.reason]).toEqual([standing, reason]);
});

test('a float switch is never a proven cause, whatever is recorded', () => {
  const all = [dry, down, free, into, out(0.2), saw('drain_flows_when_tested')];
  const { criteria } = ruleset.weigh('failed_float_switch', airHandler(all));
  const decisiveFor = criteria.filter(
    (each) => each.direction === 'for' && each.weight === 'decisive',
  );
  expect(decisiveFor).toEqual([]);
});

test('it is not replaced before somebody looked into the pan', () => {
  expect(exclusionsMissing('failed_float_switch', airHandler([into, out(0.2)]))).toHaveLength(1);
  expect(exclusionsMissing('failed_float_switch', airHandler([dry]))).toEqual([]);
});

test('an outdoor unit has no float switch', () => {
  const verdict = ruleset.weigh('failed_float_switch', outdoorUnit([dry]));
  expect(verdict.standing).toBe('not_applicable');
});
