import { expect, test } from 'vitest';
import {
  currentEvidenceRuleset,
  evidenceRulesets,
  type Verdict,
} from '../../../../src/trade/index.ts';
import { airHandler, type Sign, saw, volts } from '../../make-evidence.ts';

const battery = (value: number) => volts('thermostat_battery', value);
const blank = saw('thermostat_screen_blank');
const call = (value: number) => volts('thermostat_cooling_out', value);

// Two cells of 1.5 V: flat at 2.2 V, fresh enough above 2.7 V (common practice, no source). A
// multimeter of 1 % + 3 counts of 1 mV reads 2.2 V to 0.025 V.
const rows: [name: string, signs: Sign[], standing: Verdict['standing'], reason: string][] = [
  ['nothing recorded', [], 'unproven', 'nothing recorded'],
  ['1.6 V and a blank screen', [battery(1.6), blank], 'proven', 'proven'],
  ['1.6 V and no call out of it', [battery(1.6), call(0.1)], 'proven', 'proven'],
  ['1.6 V alone', [battery(1.6)], 'supported', 'supported'],
  [
    '1.6 V, the screen lit: it may be fed by a wire',
    [battery(1.6), saw('thermostat_screen_blank', 'no')],
    'supported',
    'supported',
  ],
  ['1.6 V, yet it gives its call', [battery(1.6), call(25.4)], 'contradicted', 'contradicted'],
  [
    '2.19 V cannot be told from 2.2 V',
    [battery(2.19), blank],
    'unproven',
    'undecided by this method',
  ],
  ['a low battery shown', [saw('thermostat_low_battery_shown')], 'supported', 'supported'],
  [
    'a low battery shown, fresh by the meter',
    [saw('thermostat_low_battery_shown'), battery(3.1)],
    'unproven',
    'signs disagree',
  ],
  ['3.1 V', [battery(3.1), blank], 'unproven', 'leans against'],
  ['a blank screen alone', [blank], 'unproven', 'nothing recorded'],
];
test.each(rows)('dead batteries of the thermostat: %s', (_name, signs, standing, reason) => {
  const ruleset = evidenceRulesets[currentEvidenceRuleset];
  const verdict = ruleset.weigh('dead_thermostat_batteries', airHandler(signs));
  expect([verdict.standing, verdict.reason]).toEqual([standing, reason]);
});
