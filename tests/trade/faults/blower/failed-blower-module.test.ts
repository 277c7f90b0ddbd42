import { expect, test } from 'vitest';
import {
  currentEvidenceRuleset,
  type Evidence,
  evidenceRulesets,
  exclusionsMissing,
  type Nameplate,
  type Verdict,
} from '../../../../src/trade/index.ts';
import { airHandler, ohms, type Sign, saw, volts } from '../../make-evidence.ts';

const plate: Nameplate = { fanMotor: 'ecm', supplyVoltsMin: 197, supplyVoltsMax: 253 };
const dead = saw('blower_module_test_runs_motor', 'no');
const fed = volts('blower_supply', 236);
const saidFed = saw('blower_called_and_fed');
const stands = saw('indoor_fan_running', 'no');
const free = saw('blower_wheel_turns_freely');
const notOpen = saw('blower_winding_reads_open', 'no');

const rows: [name: string, signs: Sign[], standing: Verdict['standing'], reason: string][] = [
  ['nothing recorded', [], 'unproven', 'nothing recorded'],
  [
    'fed, dead to a test signal, wheel free and winding sound',
    [dead, fed, free, notOpen],
    'proven',
    'proven',
  ],
  [
    'a figure for the winding is no open winding',
    [dead, fed, free, ohms('blower_winding', 3.2)],
    'proven',
    'proven',
  ],
  [
    'fed and dead to a test signal: module or motor',
    [dead, fed, stands, saidFed],
    'supported',
    'supported',
  ],
  ['called and fed, it does not run', [stands, saidFed], 'supported', 'supported'],
  [
    'the motor behind it is open',
    [dead, fed, free, saw('blower_winding_reads_open')],
    'unproven',
    'signs disagree',
  ],
  [
    'a stiff wheel: the winding may be shorted or the bearings gone',
    [dead, fed, notOpen, saw('blower_wheel_turns_freely', 'no')],
    'supported',
    'supported',
  ],
  [
    'it runs on a test signal: look at the board and its wires',
    [saw('blower_module_test_runs_motor'), stands, saidFed],
    'contradicted',
    'contradicted',
  ],
  [
    'not fed',
    [dead, volts('blower_supply', 0.2), free, notOpen],
    'unproven',
    'looked for, no sign found',
  ],
  [
    'dead to a test signal, its voltage unknown',
    [dead, free, notOpen],
    'unproven',
    'undecided by this method',
  ],
  [
    'its signal was tried while the breaker was off, and it was fed half an hour later',
    [dead, volts('blower_supply', 240, { takenAt: '2026-07-14T15:30:00Z' }), free, notOpen],
    'unproven',
    'undecided by this method',
  ],
  [
    'its signal was tried just before the breaker was reset',
    [
      saw('blower_module_test_runs_motor', 'no', { at: '2026-07-14T14:55:00Z' }),
      saw('breaker_found_tripped'),
      volts('blower_supply', 240, { takenAt: '2026-07-14T15:05:00Z' }),
      free,
      notOpen,
    ],
    'unproven',
    'undecided by this method',
  ],
  [
    'it was dead to a test signal, yet it runs',
    [dead, fed, free, notOpen, saw('indoor_fan_running')],
    'unproven',
    'readings disagree, measure again',
  ],
  [
    'it stood before it was called and fed',
    [
      saw('indoor_fan_running', 'no', { at: '2026-07-14T14:50:00Z' }),
      saw('thermostat_calling_cooling', 'no', { at: '2026-07-14T14:55:00Z' }),
      saidFed,
    ],
    'unproven',
    'undecided by this method',
  ],
  ['it runs', [saw('indoor_fan_running')], 'contradicted', 'contradicted'],
];
test.each(rows)('blower module: %s', (_name, signs, standing, reason) => {
  const verdict = weigh(airHandler(signs, plate));
  expect([verdict.standing, verdict.reason]).toEqual([standing, reason]);
});

test.each([{ fanMotor: 'psc' } as const, { capacitorBlowerUf: 10 }])(
  'a PSC blower has no module: %j',
  (psc) => {
    expect(weigh(airHandler([dead], psc))).toMatchObject({
      standing: 'not_applicable',
      reason: 'a PSC blower motor has no module',
    });
  },
);

test('the module is not sold before voltage, test signal and winding were looked at', () => {
  const missing = (signs: Sign[]) =>
    exclusionsMissing('failed_blower_module', airHandler(signs, plate)).length;
  expect(missing([])).toBe(3);
  expect(missing([dead, fed])).toBe(1);
  expect(missing([dead, fed, notOpen])).toBe(0);
});

function weigh(evidence: Evidence): Verdict {
  return evidenceRulesets[currentEvidenceRuleset].weigh('failed_blower_module', evidence);
}
