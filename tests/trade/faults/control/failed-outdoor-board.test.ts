import { expect, test } from 'vitest';
import {
  currentEvidenceRuleset,
  evidenceRulesets,
  type Verdict,
} from '../../../../src/trade/index.ts';
import { outdoorUnit, psig, type Sign, saw, volts } from '../../make-evidence.ts';

const called = volts('outdoor_cooling_call', 25.7);
const silent = volts('outdoor_board_out', 0.2);
const switchClosed = volts('high_pressure_switch', 0.05);
const standing = psig('suction_port', 190);
const waited = saw('thermostat_starts_when_set', 'no');
const all = [called, silent, switchClosed, standing, waited];
const without = (left: Sign) => all.filter((each) => each !== left);

const pulledIn = (time: string) =>
  saw('contactor_pulled_in', 'yes', { at: `2026-07-14T${time}:00Z` });

const rows: [name: string, signs: Sign[], standing: Verdict['standing'], reason: string][] = [
  ['nothing recorded', [], 'unproven', 'nothing recorded'],
  ['called, both pressure switches closed, waited, and nothing leaves it', all, 'proven', 'proven'],
  ['its delay not waited out', without(waited), 'supported', 'supported'],
  [
    'the standing pressure not measured: a low-pressure switch may be open',
    without(standing),
    'supported',
    'supported',
  ],
  [
    '20 psi standing: a low-pressure switch is open',
    [...without(standing), psig('suction_port', 20)],
    'supported',
    'supported',
  ],
  [
    'the high-pressure switch is open',
    [...without(switchClosed), volts('high_pressure_switch', 25)],
    'unproven',
    'looked for, no sign found',
  ],
  [
    'the high-pressure switch not measured',
    without(switchClosed),
    'unproven',
    'undecided by this method',
  ],
  [
    'no call reaches it',
    [...without(called), volts('outdoor_cooling_call', 0.1)],
    'unproven',
    'looked for, no sign found',
  ],
  [
    'it passes the call on',
    [called, volts('outdoor_board_out', 25.2)],
    'contradicted',
    'contradicted',
  ],
  [
    'the contactor is pulled in while the call is in',
    [...all, pulledIn('15:10')],
    'contradicted',
    'contradicted',
  ],
  [
    'nothing left it before the call came, and then the contactor pulled in',
    [
      ...without(called),
      volts('outdoor_cooling_call', 26, { takenAt: '2026-07-14T15:30:00Z' }),
      pulledIn('15:31'),
    ],
    'contradicted',
    'contradicted',
  ],
  [
    'the call was measured half an hour after its output',
    [...without(called), volts('outdoor_cooling_call', 26, { takenAt: '2026-07-14T15:30:00Z' })],
    'unproven',
    'undecided by this method',
  ],
  [
    'its delay was waited out before the breaker was reset',
    [
      ...without(waited),
      saw('thermostat_starts_when_set', 'no', { at: '2026-07-14T14:50:00Z' }),
      saw('breaker_found_tripped', 'yes', { at: '2026-07-14T14:55:00Z' }),
    ],
    'supported',
    'supported',
  ],
  [
    'stuck contacts need no board to stay closed',
    [...all, pulledIn('15:10'), saw('contactor_stays_closed_without_call')],
    'unproven',
    'leans against',
  ],
];
test.each(rows)('failed outdoor board: %s', (_name, signs, standing, reason) => {
  const ruleset = evidenceRulesets[currentEvidenceRuleset];
  const verdict = ruleset.weigh('failed_outdoor_board', outdoorUnit(signs));
  expect([verdict.standing, verdict.reason]).toEqual([standing, reason]);
});

test('an inverter unit is not judged by these rules', () => {
  const ruleset = evidenceRulesets[currentEvidenceRuleset];
  const verdict = ruleset.weigh(
    'failed_outdoor_board',
    outdoorUnit(all, { compressorMotor: 'inverter' }),
  );
  expect(verdict.standing).toBe('not_applicable');
});
