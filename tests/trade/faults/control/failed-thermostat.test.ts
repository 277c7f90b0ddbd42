import { expect, test } from 'vitest';
import {
  currentEvidenceRuleset,
  evidenceRulesets,
  type Verdict,
} from '../../../../src/trade/index.ts';
import { airHandler, type Sign, saw, volts } from '../../make-evidence.ts';

const supply = volts('thermostat_supply', 26.1);
const noCall = volts('thermostat_cooling_out', 0.2);
const waited = saw('thermostat_starts_when_set', 'no');
const calling = saw('thermostat_calling_cooling');
const jumper = saw('thermostat_jumper_starts_cooling');
const batteriesGood = saw('thermostat_low_battery_shown', 'no');
const all = [supply, noCall, waited, jumper, batteriesGood];
const without = (left: Sign) => all.filter((each) => each !== left);

const rows: [name: string, signs: Sign[], standing: Verdict['standing'], reason: string][] = [
  ['nothing recorded', [], 'unproven', 'nothing recorded'],
  ['fed, waited for, no call out, the jumper starts the cooling', all, 'proven', 'proven'],
  [
    'found set wrong, and measured before it was set right',
    [
      ...without(waited),
      saw('thermostat_set_wrong'),
      saw('thermostat_starts_when_set', 'no', { at: '2026-07-14T15:08:00Z' }),
    ],
    'supported',
    'supported',
  ],
  [
    'found set wrong, set right, waited for and then measured',
    [...all, saw('thermostat_set_wrong', 'yes', { at: '2026-07-14T14:50:00Z' })],
    'proven',
    'proven',
  ],
  ['found set right', [...all, saw('thermostat_set_wrong', 'no')], 'proven', 'proven'],
  [
    'nothing leaves the float switch',
    [...all, volts('float_switch_in', 26), volts('float_switch_out', 0.1)],
    'supported',
    'supported',
  ],
  [
    'no call reaches the float switch either',
    [...all, volts('float_switch_in', 0.1), volts('float_switch_out', 0.1)],
    'proven',
    'proven',
  ],
  ['the float is raised', [...all, saw('float_switch_raised')], 'supported', 'supported'],
  ['its delay not waited out', [...without(waited), calling], 'supported', 'supported'],
  ['its batteries not looked at', without(batteriesGood), 'supported', 'supported'],
  ['the jumper not tried', without(jumper), 'supported', 'supported'],
  [
    'no voltage reaches it, yet the jumper starts',
    [...without(supply), volts('thermostat_supply', 0.1)],
    'supported',
    'supported',
  ],
  ['nothing else than 0 V out of it', [noCall], 'unproven', 'undecided by this method'],
  [
    'not set to call, a jumper that starts the cooling says nothing of it',
    [jumper, saw('thermostat_set_wrong')],
    'unproven',
    'undecided by this method',
  ],
  [
    'set right the cooling starts',
    [jumper, saw('thermostat_starts_when_set')],
    'contradicted',
    'contradicted',
  ],
  [
    'it gives its call',
    [supply, calling, volts('thermostat_cooling_out', 25.8)],
    'contradicted',
    'contradicted',
  ],
  [
    'the jumper starts nothing either',
    [...without(jumper), saw('thermostat_jumper_starts_cooling', 'no')],
    'unproven',
    'signs disagree',
  ],
  [
    'low batteries come first',
    [...without(batteriesGood), saw('thermostat_low_battery_shown')],
    'unproven',
    'signs disagree',
  ],
  [
    'flat batteries by the meter outrank a screen that shows none',
    [...all, volts('thermostat_battery', 1.5)],
    'unproven',
    'signs disagree',
  ],
  [
    'dark though fed and its batteries good',
    [supply, batteriesGood, saw('thermostat_screen_blank')],
    'supported',
    'supported',
  ],
];
test.each(rows)('failed thermostat: %s', (_name, signs, standing, reason) => {
  const ruleset = evidenceRulesets[currentEvidenceRuleset];
  const verdict = ruleset.weigh('failed_thermostat', airHandler(signs));
  expect([verdict.standing, verdict.reason]).toEqual([standing, reason]);
});
