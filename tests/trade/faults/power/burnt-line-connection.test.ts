import { expect, test } from 'vitest';
import {
  currentEvidenceRuleset,
  type Evidence,
  evidenceRulesets,
  type Verdict,
} from '../../../../src/trade/index.ts';
import { outdoorUnit, type Sign, saw, volts, withPhoto } from '../../make-evidence.ts';

type Row = [name: string, signs: Sign[], standing: Verdict['standing'], reason: string];

const runs = saw('compressor_running');
const drop = (value: number) => volts('line_connection', value);
const burnt = 'line_connection_burnt';
const lostBehind = [
  volts('disconnect_line_side', 240),
  volts('line_supply', 0.3),
  saw('disconnect_found_open', 'no'),
];
const fusesClosed = saw('disconnect_fuse_reads_open', 'no');

// Common practice, no source: a sound connection drops millivolts. 1 V is read to 0.013 V.
const rows: Row[] = [
  ['nothing recorded', [], 'unproven', 'nothing recorded'],
  ['seen burnt', [saw(burnt)], 'supported', 'supported'],
  [
    'seen burnt, with a photo: it may carry its current yet',
    [saw(burnt, 'yes', withPhoto)],
    'supported',
    'supported',
  ],
  [
    'seen burnt, and the voltage lost behind a sound disconnect',
    [saw(burnt), ...lostBehind, fusesClosed],
    'proven',
    'proven',
  ],
  [
    'dead while locked out for work: the machine ran after it',
    [
      saw(burnt),
      ...lostBehind,
      fusesClosed,
      saw('compressor_running', 'yes', { at: '2026-07-14T15:40:00Z' }),
    ],
    'supported',
    'supported',
  ],
  [
    'dead at the unit half an hour after the disconnect was measured',
    [
      saw(burnt),
      volts('disconnect_line_side', 240, { takenAt: '2026-07-14T14:30:00Z' }),
      volts('line_supply', 0.3),
      saw('disconnect_found_open', 'no'),
      fusesClosed,
    ],
    'supported',
    'supported',
  ],
  [
    'dead at first, fed later: it was something else',
    [
      saw(burnt),
      ...lostBehind,
      fusesClosed,
      volts('line_supply', 240, { takenAt: '2026-07-14T15:10:00Z' }),
    ],
    'supported',
    'supported',
  ],
  [
    'seen burnt, the voltage lost, the fuses not tested',
    [saw(burnt), ...lostBehind],
    'supported',
    'supported',
  ],
  [
    'seen burnt, the voltage lost, a fuse open',
    [saw(burnt), ...lostBehind, saw('disconnect_fuse_reads_open')],
    'supported',
    'supported',
  ],
  [
    'seen burnt, 240 V at the unit',
    [saw(burnt), volts('line_supply', 240)],
    'supported',
    'supported',
  ],
  ['it drops 2.4 V under load', [runs, drop(2.4)], 'proven', 'proven'],
  ['1.01 V cannot be told from 1 V', [runs, drop(1.01)], 'supported', 'supported'],
  ['it drops 0.8 V under load', [runs, drop(0.8)], 'supported', 'supported'],
  [
    '0.505 V cannot be told from 0.5 V',
    [runs, drop(0.505)],
    'unproven',
    'undecided by this method',
  ],
  ['2.4 V with no load on record', [drop(2.4)], 'unproven', 'undecided by this method'],
  [
    '240 V across a connection of a machine that runs',
    [runs, drop(240)],
    'unproven',
    'undecided by this method',
  ],
  ['it drops 0.03 V under load', [runs, drop(0.03)], 'unproven', 'leans against'],
  ['all looked at, none burnt', [saw(burnt, 'no')], 'unproven', 'leans against'],
  [
    'one burnt, the measured one sound',
    [saw(burnt, 'yes', withPhoto), runs, drop(0.03)],
    'unproven',
    'signs disagree',
  ],
  [
    'seen burnt by the caller',
    [saw(burnt, 'yes', { ...withPhoto, source: 'reported' })],
    'unproven',
    'nothing recorded',
  ],
];
test.each(rows)('burnt line connection: %s', (_name, signs, standing, reason) => {
  const verdict = weigh(outdoorUnit(signs));
  expect([verdict.standing, verdict.reason]).toEqual([standing, reason]);
});

function weigh(evidence: Evidence): Verdict {
  return evidenceRulesets[currentEvidenceRuleset].weigh('burnt_line_connection', evidence);
}
