import { describe, expect, test } from 'vitest';
import {
  currentEvidenceRuleset,
  evidenceRulesets,
  type Verdict,
} from '../../../src/trade/index.ts';
import { airHandler, type Sign, saw, volts } from '../make-evidence.ts';

type Row = [name: string, signs: Sign[], standing: Verdict['standing'], reason: string];
const ruleset = evidenceRulesets[currentEvidenceRuleset];

describe('plugged condensate drain', () => {
  const before = { at: '2026-07-14T14:50:00Z' };
  const after = { at: '2026-07-14T15:10:00Z' };
  const rows: Row[] = [
    ['nothing recorded', [], 'unproven', 'nothing recorded'],
    ['the pan is full', [saw('drain_pan_full')], 'supported', 'supported'],
    [
      'the drain does not flow when tested',
      [saw('drain_flows_when_tested', 'no')],
      'proven',
      'proven',
    ],
    ['the blockage was drawn out', [saw('drain_blockage_drawn_out')], 'proven', 'proven'],
    ['the pan is dry', [saw('drain_pan_dry')], 'contradicted', 'contradicted'],
    ['the drain flows freely', [saw('drain_flows_when_tested')], 'contradicted', 'contradicted'],
    [
      'pan full but the drain flows freely',
      [saw('drain_pan_full'), saw('drain_flows_when_tested')],
      'contradicted',
      'contradicted',
    ],
    [
      'a dry pan, and later a blockage drawn out',
      [saw('drain_pan_dry', 'yes', before), saw('drain_blockage_drawn_out')],
      'unproven',
      'readings disagree, measure again',
    ],
    [
      'a full pan, a blockage drawn out, then a dry pan',
      [
        saw('drain_pan_full', 'yes', before),
        saw('drain_blockage_drawn_out'),
        saw('drain_pan_dry', 'yes', after),
      ],
      'proven',
      'proven',
    ],
    [
      'it did not flow, a blockage was drawn out, it flows',
      [
        saw('drain_flows_when_tested', 'no', before),
        saw('drain_blockage_drawn_out'),
        saw('drain_flows_when_tested', 'yes', after),
      ],
      'proven',
      'proven',
    ],
    [
      'one trial tells both: drawn out, and it flows',
      [saw('drain_blockage_drawn_out'), saw('drain_flows_when_tested')],
      'proven',
      'proven',
    ],
    [
      'it flowed before anything was drawn out',
      [saw('drain_flows_when_tested', 'yes', before), saw('drain_blockage_drawn_out')],
      'unproven',
      'readings disagree, measure again',
    ],
    [
      'it does not flow, and the pump behind it is dead',
      [saw('drain_flows_when_tested', 'no'), saw('condensate_pump_runs_when_filled', 'no')],
      'supported',
      'supported',
    ],
    [
      'it does not flow, and the pump behind it runs',
      [saw('drain_flows_when_tested', 'no'), saw('condensate_pump_runs_when_filled')],
      'proven',
      'proven',
    ],
    [
      'it flows after it was cleared',
      [saw('drain_blockage_drawn_out'), saw('drain_flows_when_tested', 'yes', { phase: 'left' })],
      'proven',
      'proven',
    ],
  ];
  test.each(rows)('%s', (_name, signs, standing, reason) => {
    const verdict = ruleset.weigh('plugged_drain', airHandler(signs));
    expect([verdict.standing, verdict.reason]).toEqual([standing, reason]);
  });
});

describe('open float switch', () => {
  const calling = saw('thermostat_calling_cooling');
  const fedButDead = [volts('float_switch_in', 25.1), volts('float_switch_out', 0.3)];
  const rows: Row[] = [
    ['nothing recorded', [], 'unproven', 'nothing recorded'],
    ['24 V in, 0 V out, thermostat calling', [calling, ...fedButDead], 'proven', 'proven'],
    [
      '24 V in, 0 V out, nobody recorded a call',
      fedButDead,
      'unproven',
      'undecided by this method',
    ],
    [
      '24 V in, 0 V out, no call',
      [saw('thermostat_calling_cooling', 'no'), ...fedButDead],
      'unproven',
      'undecided by this method',
    ],
    [
      '24 V in and out',
      [calling, volts('float_switch_in', 25.1), volts('float_switch_out', 25)],
      'contradicted',
      'contradicted',
    ],
    [
      '0 V in: the trouble is upstream',
      [calling, volts('float_switch_in', 0.2), volts('float_switch_out', 0.2)],
      'unproven',
      'looked for, no sign found',
    ],
    [
      'only the voltage after it',
      [calling, volts('float_switch_out', 0.3)],
      'unproven',
      'undecided by this method',
    ],
    ['its float found raised', [saw('float_switch_raised')], 'supported', 'supported'],
  ];
  test.each(rows)('%s', (_name, signs, standing, reason) => {
    const verdict = ruleset.weigh('open_float_switch', airHandler(signs));
    expect([verdict.standing, verdict.reason]).toEqual([standing, reason]);
  });
});
