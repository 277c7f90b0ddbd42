import { expect, test } from 'vitest';
import {
  currentEvidenceRuleset,
  evidenceRulesets,
  type Verdict,
} from '../../../../src/trade/index.ts';
import { airHandler, type Sign, saw, volts, withPhoto } from '../../make-evidence.ts';

const atBoard = volts('board_cooling_call', 25.9);
const lost = volts('outdoor_cooling_call', 0.3);
const floatPasses = [volts('float_switch_in', 26), volts('float_switch_out', 25.9)];
const floatOpen = [volts('float_switch_in', 26), volts('float_switch_out', 0.1)];

const rows: [name: string, signs: Sign[], standing: Verdict['standing'], reason: string][] = [
  ['nothing recorded', [], 'unproven', 'nothing recorded'],
  [
    'the call is at the board, not outdoors, and the float switch passes it',
    [atBoard, lost, ...floatPasses],
    'proven',
    'proven',
  ],
  [
    'dead outdoors before the call, and at the board half an hour later',
    [
      lost,
      volts('board_cooling_call', 26, { takenAt: '2026-07-14T15:30:00Z' }),
      volts('float_switch_out', 26, { takenAt: '2026-07-14T15:30:00Z' }),
    ],
    'unproven',
    'undecided by this method',
  ],
  [
    'dead outdoors while nothing called, and at the board some minutes later',
    [
      saw('thermostat_calling_cooling', 'no', { at: '2026-07-14T14:59:00Z' }),
      lost,
      volts('board_cooling_call', 26, { takenAt: '2026-07-14T15:10:00Z' }),
      volts('float_switch_out', 26, { takenAt: '2026-07-14T15:10:00Z' }),
    ],
    'supported',
    'supported',
  ],
  ['the same, the float switch not measured', [atBoard, lost], 'supported', 'supported'],
  [
    'the float switch is open: that is where the call ends',
    [atBoard, lost, ...floatOpen],
    'unproven',
    'signs disagree',
  ],
  [
    'the call leaves the thermostat and does not reach the board',
    [volts('thermostat_cooling_out', 26), volts('board_cooling_call', 0.2), ...floatPasses],
    'proven',
    'proven',
  ],
  [
    'no call at the board either: look upstream',
    [volts('board_cooling_call', 0.2), lost, ...floatPasses],
    'unproven',
    'undecided by this method',
  ],
  ['nobody measured at the board', [lost], 'unproven', 'undecided by this method'],
  [
    'the call arrives',
    [atBoard, volts('outdoor_cooling_call', 25.1)],
    'contradicted',
    'contradicted',
  ],
  [
    'a cut wire on a photo, no call measured',
    [saw('control_wire_damaged', 'yes', withPhoto)],
    'supported',
    'supported',
  ],
  [
    'a cut wire on a photo while the call arrives',
    [saw('control_wire_damaged', 'yes', withPhoto), volts('outdoor_cooling_call', 25.1)],
    'contradicted',
    'contradicted',
  ],
];
test.each(rows)('broken control wire: %s', (_name, signs, standing, reason) => {
  const ruleset = evidenceRulesets[currentEvidenceRuleset];
  const verdict = ruleset.weigh('broken_control_wire', airHandler(signs));
  expect([verdict.standing, verdict.reason]).toEqual([standing, reason]);
});
