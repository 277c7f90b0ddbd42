import { expect, test } from 'vitest';
import { type Evidence, type FaultCode, leads } from '../../src/trade/index.ts';
import { airHandler, outdoorUnit, type Sign, saw, volts } from './make-evidence.ts';

const line = volts('line_supply', 241);
const stopped: Sign[] = [saw('compressor_running', 'no'), saw('outdoor_fan_running', 'no')];

// Decision rules of the trade: common practice, no source.
const rows: [name: string, evidence: Evidence, lead: string, suspects: FaultCode[]][] = [
  [
    'the fan runs, the compressor is silent',
    outdoorUnit([saw('outdoor_fan_running'), saw('compressor_running', 'no')]),
    'compressor_alone_stopped',
    ['run_capacitor_herm'],
  ],
  [
    'the fan runs, the compressor only hums',
    outdoorUnit([saw('outdoor_fan_running'), saw('compressor_hums')]),
    'compressor_alone_stopped',
    ['run_capacitor_herm'],
  ],
  [
    'the compressor runs, the fan is silent',
    outdoorUnit([saw('compressor_running'), saw('outdoor_fan_running', 'no')]),
    'outdoor_fan_alone_stopped',
    ['run_capacitor_fan'],
  ],
  [
    'the compressor runs, the fan only hums',
    outdoorUnit([saw('compressor_running'), saw('outdoor_fan_hums')]),
    'outdoor_fan_alone_stopped',
    ['run_capacitor_fan'],
  ],
  [
    'contactor in, line voltage, nothing runs',
    outdoorUnit([saw('contactor_pulled_in'), line, ...stopped]),
    'fed_but_nothing_runs',
    ['run_capacitor_herm', 'run_capacitor_fan', 'worn_contactor'],
  ],
  [
    'pushed in by hand, both start',
    outdoorUnit([saw('contactor_by_hand_both_start')]),
    'both_start_by_hand',
    ['open_control_fuse', 'open_float_switch', 'worn_contactor'],
  ],
  [
    '24 V at the coil, contacts open',
    outdoorUnit([volts('contactor_coil', 24.8), saw('contactor_pulled_in', 'no')]),
    'coil_fed_contacts_open',
    ['worn_contactor'],
  ],
  [
    '0 V at the coil while the thermostat calls',
    outdoorUnit([volts('contactor_coil', 0.1), saw('thermostat_calling_cooling')]),
    'coil_not_fed',
    ['open_float_switch', 'open_control_fuse'],
  ],
  ['the pan is full', airHandler([saw('drain_pan_full')]), 'pan_full', ['plugged_drain']],
  [
    'the indoor fan runs, nothing outside does, thermostat calling',
    outdoorUnit([saw('indoor_fan_running'), saw('thermostat_calling_cooling'), ...stopped]),
    'only_indoor_fan_runs',
    ['open_float_switch', 'tripped_breaker'],
  ],
  [
    'the float switch is open',
    airHandler([
      saw('thermostat_calling_cooling'),
      volts('float_switch_in', 25),
      volts('float_switch_out', 0),
    ]),
    'float_switch_open',
    ['plugged_drain'],
  ],
  ['the fuse is open', airHandler([saw('control_fuse_reads_open')]), 'fuse_open', []],
  ['the breaker is tripped', outdoorUnit([saw('breaker_found_tripped')]), 'breaker_tripped', []],
  ['the breaker trips again', outdoorUnit([saw('breaker_trips_again')]), 'breaker_trips_again', []],
];
test.each(rows)('%s', (_name, evidence, id, suspects) => {
  const lead = leads(evidence).find((each) => each.id === id);
  expect(lead?.suspects).toEqual(suspects);
  expect(lead?.look).not.toBe('');
});

test('nothing observed leads nowhere', () => {
  expect(leads(outdoorUnit([]))).toEqual([]);
});

test('nothing runs because nothing is fed: no lead to the capacitor', () => {
  const signs = [saw('contactor_pulled_in'), volts('line_supply', 2), ...stopped];
  expect(leads(outdoorUnit(signs))).toEqual([]);
});

test('what a caller reports leads nowhere', () => {
  const reported = { source: 'reported' } as const;
  const signs = [
    saw('outdoor_fan_running', 'yes', reported),
    saw('compressor_running', 'no', reported),
  ];
  expect(leads(outdoorUnit(signs))).toEqual([]);
});

test('the lead from a fuse or an open float switch says that it is not the cause', () => {
  const fuse = leads(airHandler([saw('control_fuse_reads_open')]))[0];
  expect(fuse?.statement).toContain('not the cause');
  expect(fuse?.look).toContain('short');
});

test('an inverter compressor that stands still leads to no run capacitor', () => {
  const signs = [saw('outdoor_fan_running'), saw('compressor_running', 'no')];
  const found = leads(outdoorUnit(signs, { compressorMotor: 'inverter' }));
  expect(found.flatMap((lead) => lead.suspects)).toEqual([]);
});
