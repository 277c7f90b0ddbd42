import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readWork } from '../../../src/auditing/bills/read-work.ts';
import { taskCodeSchema, taskWords } from '../../../src/trade/index.ts';

/*
 * Wordings as they stand on bills of the trade: common practice, no source. All are invented.
 */

const dual = 'replace_dual_run_capacitor';
const compressorCap = 'replace_compressor_run_capacitor';
const fanCap = 'replace_fan_run_capacitor';
const blowerCap = 'replace_blower_run_capacitor';
const anyCapacitor = [dual, compressorCap, fanCap, blowerCap];

/** What a bill says was done, and the task of each piece of work, or the tasks it may have been. */
const understood: readonly [says: string, tasks: readonly (string | readonly string[])[]][] = [
  ['replaced capacitor', [anyCapacitor]],
  ['Replaced cap.', [anyCapacitor]],
  ['REPLACED RUN CAPACITOR', [anyCapacitor]],
  ['Changed out the bad run cap', [anyCapacitor]],
  ['swapped weak capacitor', [anyCapacitor]],
  ['installed new capacitor on condenser', [anyCapacitor]],
  ['new capacitor', [anyCapacitor]],
  ['replaced 45/5 capacitor', [[dual]]],
  ['replaced 45+5 mfd 440v capacitor', [[dual]]],
  ['Replaced dual run capacitor 45/5 uF 440 V', [[dual]]],
  ['replaced 5 mfd cap', [[compressorCap, fanCap, blowerCap]]],
  ['replaced fan capacitor', [[fanCap, dual]]],
  ['replaced compressor capacitor', [[compressorCap, dual]]],
  ['replaced blower motor capacitor 10 uf', [[blowerCap]]],
  ['replaced contactor', [['replace_contactor']]],
  ['Replaced pitted contactor, 2 pole 30 amp', [['replace_contactor']]],
  ['installed a new 24v contactor at the condenser', [['replace_contactor']]],
  ['replaced capacitor and contactor', [anyCapacitor, ['replace_contactor']]],
  ['replaced capacitor, contactor', [anyCapacitor, ['replace_contactor']]],
  ['replaced capacitor & contactor', [anyCapacitor, ['replace_contactor']]],
  ['replaced capacitor/contactor', [anyCapacitor, ['replace_contactor']]],
  ['replaced capacitor and replaced contactor', [anyCapacitor, ['replace_contactor']]],
  ['replaced capacitor then replaced the contactor', [anyCapacitor, ['replace_contactor']]],
  ['Capacitor and contactor replaced.', [anyCapacitor, ['replace_contactor']]],
  ['swapped cap & contactor', [anyCapacitor, ['replace_contactor']]],
  ['No cooling, capacitor and contactor replaced', [anyCapacitor, ['replace_contactor']]],
  [
    'Condenser fan motor and capacitor were replaced.',
    [['replace_outdoor_fan_motor'], anyCapacitor],
  ],
  ['Evaporator coil and blower wheel cleaned.', [['clean_indoor_coil'], ['clean_blower_wheel']]],
  [
    'Capacitor, contactor and hard start kit replaced.',
    [anyCapacitor, ['replace_contactor'], ['replace_start_device']],
  ],
  ['Capacitor 45/5 and contactor replaced', [[dual], ['replace_contactor']]],
  [
    'Drain line cleared and float switch reset.',
    [['clear_condensate_drain'], ['reset_float_switch']],
  ],
  ['Contactor replaced, capacitor tested good.', [['replace_contactor']]],
  ['Filter changed, condensate drain flushed.', [['replace_filter'], ['clear_condensate_drain']]],
  ['reset breaker', [['reset_breaker']]],
  ['flipped breaker', [['reset_breaker']]],
  ['Flipped the tripped circuit breaker back on', [['reset_breaker']]],
  ['reset tripped breaker, system working', [['reset_breaker']]],
  ['restored the disconnect', [['restore_disconnect']]],
  ['pushed disconnect back in', [['restore_disconnect']]],
  ['reset float switch', [['reset_float_switch']]],
  ['reset safety switch', [['reset_float_switch']]],
  ['replaced float switch', [['replace_float_switch']]],
  ['cleared drain', [['clear_condensate_drain']]],
  ['Cleared clogged condensate drain line', [['clear_condensate_drain']]],
  ['blew out drain line', [['clear_condensate_drain']]],
  ['unclogged drain and reset float switch', [['clear_condensate_drain'], ['reset_float_switch']]],
  ['flushed condensate line.', [['clear_condensate_drain']]],
  ['replaced control fuse', [['replace_control_fuse']]],
  ['replaced 3 amp fuse', [['replace_control_fuse']]],
  ['replaced 35 amp fuse', [['replace_disconnect_fuses']]],
  ['replaced 10 amp fuse', [['replace_control_fuse', 'replace_disconnect_fuses']]],
  ['replaced blown board fuse', [['replace_control_fuse']]],
  ['replaced fuses in disconnect', [['replace_disconnect_fuses']]],
  ['replaced fuse on board', [['replace_control_fuse']]],
  ['replaced disconnect fuses', [['replace_disconnect_fuses']]],
  ['set thermostat', [['set_thermostat']]],
  ['changed batteries in thermostat', [['replace_thermostat_batteries']]],
  ['installed new thermostat', [['replace_thermostat']]],
  ['replaced transformer', [['replace_transformer']]],
  [
    'replaced control board',
    [['replace_indoor_board', 'replace_outdoor_board', 'replace_defrost_board']],
  ],
  ['replaced condenser fan motor', [['replace_outdoor_fan_motor']]],
  ['replaced blower motor', [['replace_blower_motor']]],
  ['replaced fan motor', [['replace_outdoor_fan_motor', 'replace_blower_motor']]],
  ['installed hard start kit', [['add_start_device']]],
  ['replaced hard start kit', [['replace_start_device']]],
  ['cleaned condenser coil', [['clean_outdoor_coil']]],
  ['cleaned evaporator coil', [['clean_indoor_coil']]],
  ['washed coil', [['clean_indoor_coil', 'clean_outdoor_coil']]],
  ['cleaned blower wheel', [['clean_blower_wheel']]],
  ['replaced filter', [['replace_filter']]],
  ['added 2 lb r-410a', [['add_refrigerant']]],
  ['added 2.5 lbs of R410A refrigerant', [['add_refrigerant']]],
  ['topped off freon', [['add_refrigerant']]],
  ['searched for leak', [['search_leak']]],
  ['repaired leak', [['repair_leak']]],
  ['replaced TXV', [['replace_metering_device']]],
  ['replaced filter drier', [['replace_filter_drier']]],
  ['replaced compressor', [['replace_compressor']]],
  ['replaced reversing valve', [['replace_reversing_valve']]],
  ['replaced reversing valve coil', [['replace_reversing_valve_coil']]],
  ['repaired low voltage wiring', [['repair_control_wiring']]],
  ['replaced run capacitor 45/5/440', [[dual]]],
  ['turned breaker back on', [['reset_breaker']]],
  ['cleaned and flushed drain line', [['clear_condensate_drain']]],
  // Looking for what is hidden is work of its own.
  ['leak checked system', [['search_leak']]],
  ['checked for leaks', [['search_leak']]],
  ['searched for leak, no leak found', [['search_leak']]],
  ['diagnosed breaker trip', [['trace_breaker_trip']]],
  // What was looked at, said or left alone is no work of its own.
  ['checked pressures, replaced capacitor, tested operation', [anyCapacitor]],
  ['capacitor ok, replaced contactor', [['replace_contactor']]],
  ['capacitor good. replaced contactor', [['replace_contactor']]],
  ['replaced capacitor. no need to replace contactor', [anyCapacitor]],
  ['replaced capacitor, contactor not replaced', [anyCapacitor]],
  ['replaced capacitor, contactor pitted', [anyCapacitor]],
  ['replaced capacitor, recommend new contactor', [anyCapacitor]],
  ['replaced capacitor; recommended contactor and blower motor', [anyCapacitor]],
  ['replaced capacitor, customer declined compressor', [anyCapacitor]],
  ['replaced capacitor, did not replace contactor', [anyCapacitor]],
  ['no cooling, replaced capacitor', [anyCapacitor]],
  ['system not cooling. Replaced capacitor. System is cooling now', [anyCapacitor]],
  ['turned off breaker, replaced contactor', [['replace_contactor']]],
  ['removed and replaced contactor', [['replace_contactor']]],
  // Another thing begins to be said before another verb, without any sign.
  ['replaced capacitor cleaned coil', [anyCapacitor, ['clean_indoor_coil', 'clean_outdoor_coil']]],
  ['replaced contactor checked amps replaced filter', [['replace_contactor'], ['replace_filter']]],
  ['the replace_contactor', [['replace_contactor']]],
  ['declined thermostat. capacitor and contactor replaced', [anyCapacitor, ['replace_contactor']]],
  ['45/5, filter and contactor replaced', [['replace_filter'], ['replace_contactor']]],
  ['turned off power, replaced contactor', [['replace_contactor']]],
  ['checked system, capacitor ok, contactor ok', []],
  ['inspected unit', []],
  ['diagnosed bad compressor, customer declined', []],
  ['tested capacitor, no need to replace', []],
];

/** What nobody can be sure of. */
const notUnderstood = [
  '',
  '   ',
  'contactor ok replaced capacitor',
  'replaced capacitor customer declined contactor',
  'fixed unit',
  'repaired system',
  'reset system',
  'made it work',
  'replaced capacitor harness',
  'replaced flux capacitor',
  'replaced capacitor and flux inducer',
  'replaced breaker',
  'cleaned capacitor',
  'replaced 2 capacitors',
  'replaced both capacitors',
  'replaced two contactors',
  'replaced capacitor. replaced capacitor',
  'replaced contactor with capacitor',
  'replaced contactor with',
  'replaced capacitor good',
  'replaced fuse at 3 amp transformer',
  'replaced capacitor under warranty',
  'Reparado el condensador',
  'cambio de capacitor',
  'cap it all',
  'ok',
  'done',
  'as agreed',
  'the on at',
  '45/5',
  'reset_breakers',
  'replace_capacitor',
  'Replaced. Capacitor.',
  'to replace capacitor',
  'no leak found',
  'compressor not needed, capacitor',
  'contactor needs to be replaced',
  'tightened connections',
  'drain is clear',
  // A verb at the end belongs to what is listed before it, where that is a list and nothing else.
  'capacitor, contactor replaced',
  'checked thermostat, capacitor and contactor replaced',
  'capacitor and contactor replace',
  'capacitor and replaced contactor',
  'capacitor ok and contactor and transformer replaced contactor',
  'drain and contactor replaced',
  'filter. capacitor and contactor replaced',
  'capacitor and contactor not replaced',
  'recommended thermostat, capacitor and contactor replaced',
  // A bad one that is listed may only have been found.
  'Bad capacitor & pitted contactor replaced',
  'bad compressor and capacitor replaced',
  'Capacitor and contactor cleaned',
  'module replaced',
];

describe('what a bill says was done', () => {
  it.each(understood)('%s', (says, tasks) => {
    const read = readWork({ done: says });
    expect(read).toMatchObject({ outcome: 'understood' });
    if (read.outcome !== 'understood') return;
    expect(read.work.map(({ taskCodes }) => [...taskCodes].sort())).toEqual(
      tasks.map((each) => [...each].sort()),
    );
  });

  it.each(notUnderstood)('is not understood where it leaves a doubt: %s', (says) => {
    const read = readWork({ done: says });
    expect(read.outcome).toBe('not_understood');
    if (read.outcome !== 'not_understood') return;
    expect(read.reasons.length).toBeGreaterThan(0);
  });

  it('names the words that it does not know', () => {
    expect(readWork({ done: 'replaced flux capacitor, set the wibble' })).toEqual({
      outcome: 'not_understood',
      reasons: ['Not understood: “replaced flux capacitor”.', 'Not understood: “set the wibble”.'],
    });
  });

  it.each(taskCodeSchema.options)('knows its own code and its own name: %s', (code) => {
    for (const done of [code, taskWords[code].name, `${taskWords[code].name.toUpperCase()}.`]) {
      const read = readWork({ done });
      expect(read).toMatchObject({ outcome: 'understood', work: [{ taskCodes: [code] }] });
    }
  });

  it('reads several of its own codes', () => {
    const read = readWork({ done: 'replace_contactor, reset_breaker' });
    expect(read).toMatchObject({
      work: [{ taskCodes: ['replace_contactor'] }, { taskCodes: ['reset_breaker'] }],
    });
  });

  it('says which faults the work is known to mend', () => {
    const read = readWork({ done: 'flipped breaker' });
    expect(read).toMatchObject({ work: [{ faultCodes: ['tripped_breaker'] }] });
    const contactor = readWork({ done: 'replaced contactor' });
    expect(contactor).toMatchObject({
      work: [{ faultCodes: ['worn_contactor', 'stuck_contactor'].sort() }],
    });
    const stuck = readWork({ found: 'Stuck contactor', done: 'replaced contactor' });
    expect(stuck).toMatchObject({ work: [{ faultCodes: ['stuck_contactor'] }] });
    const byCode = readWork({ found: 'worn_contactor', done: 'replaced contactor' });
    expect(byCode).toMatchObject({ work: [{ faultCodes: ['worn_contactor'] }] });
  });

  it('reads the figures that decide which part it was', () => {
    const figuresOf = (done: string, found = '') => {
      const read = readWork({ done, found });
      return read.outcome === 'understood' ? read.work.map(({ figures }) => figures) : read;
    };
    expect(figuresOf('replaced 45/5 capacitor')).toEqual([{ hermUf: 45, fanUf: 5 }]);
    expect(figuresOf('replaced 35 + 7.5 mfd 370v capacitor')).toEqual([
      { hermUf: 35, fanUf: 7.5, volts: 370 },
    ]);
    expect(figuresOf('replaced 10 uf cap')).toEqual([{ microfarads: 10 }]);
    // What stands by itself after a comma is of the work before it.
    expect(figuresOf('replaced capacitor 45/5, 440 volts')).toEqual([
      { hermUf: 45, fanUf: 5, volts: 440 },
    ]);
    expect(figuresOf('440 volts, replaced capacitor')).toEqual([{}]);
    expect(figuresOf('replaced 2-pole 40a contactor')).toEqual([{ poles: 2, amps: 40 }]);
    expect(figuresOf('added 2.5 lbs of R410A')).toEqual([{ pounds: '2.5', refrigerant: 'R-410A' }]);
    expect(figuresOf('replaced capacitor, contactor', '45/5 capacitor weak')).toEqual([
      { hermUf: 45, fanUf: 5 },
      {},
    ]);
    // A date is no rating: the compressor's section is the larger one.
    expect(figuresOf('7/15 replaced capacitor')).toEqual([{}]);
  });

  it('says what it took where a bill says little', () => {
    expect(readWork({ found: 'Bad capacitor', done: 'Capacitor' })).toMatchObject({
      taken: ['The bill only names “Capacitor”: that it was put in is taken.'],
    });
    expect(readWork({ done: 'New capacitor' })).toMatchObject({ taken: [] });
    expect(readWork({ done: 'Capacitor replaced, contactor cleaned' })).toMatchObject({
      taken: [
        '“contactor cleaned” is taken as part of the other work: the price book has no task for it.',
      ],
    });
    expect(readWork({ done: 'Cleaned contactor' })).toEqual({
      outcome: 'not_understood',
      reasons: ['The price book has no task for “Cleaned contactor”.'],
    });
  });

  it('takes what was found for what was mended, where the bill leaves that open', () => {
    const tasksOf = (found: string, done: string) => {
      const read = readWork({ found, done });
      return read.outcome === 'understood' ? read.work.map(({ taskCodes }) => taskCodes) : read;
    };
    expect(tasksOf('Weak blower capacitor', 'Replaced capacitor')).toEqual([[blowerCap]]);
    // What was found sound is not what was mended.
    const oneBad = 'Fan capacitor good. Blower capacitor weak';
    expect(tasksOf(oneBad, 'Replaced capacitor')).toEqual([[blowerCap]]);
    expect(tasksOf('Blower capacitor ok', 'Replaced capacitor')).toEqual([anyCapacitor]);
    expect(tasksOf('Blown fuse on board', 'Replaced fuse')).toEqual([['replace_control_fuse']]);
    // Two of them were found: which was mended, nobody knows.
    const both = 'Weak fan capacitor and weak blower capacitor';
    expect(tasksOf(both, 'Replaced capacitor')).toEqual([anyCapacitor]);
    expect(tasksOf('Tripped breaker', 'Reset and tested')).toEqual([['reset_breaker']]);
    expect(tasksOf('Tripped breaker', 'Restored power')).toEqual([['reset_breaker']]);
    // Power that is back after other work is no work of its own.
    expect(tasksOf('', 'Replaced contactor and restored power')).toEqual([['replace_contactor']]);
  });

  it('counts what is sold in several', () => {
    const read = readWork({ done: 'replaced 2 filters' });
    expect(read).toMatchObject({ work: [{ taskCodes: ['replace_filter'], quantity: 2 }] });
    // A disconnect has a fuse in each of its two legs; how many filters a home has, nobody knows.
    const fuses = readWork({ done: 'replaced disconnect fuses' });
    expect(fuses).toMatchObject({ work: [{ quantity: 2 }] });
    expect(readWork({ done: 'replaced filters' }).outcome).toBe('not_understood');
  });
});

describe('the law that nothing is guessed', () => {
  // Letters that no word of a bill has beside each other.
  const strange = fc
    .array(fc.constantFrom('q', 'x', 'z', 'j', 'v'), { minLength: 3, maxLength: 9 })
    .map((letters) => letters.join(''));

  it('nonsense is never understood', () => {
    const nonsense = fc.array(strange, { maxLength: 8 }).map((words) => words.join(' '));
    fc.assert(
      fc.property(fc.oneof(nonsense, fc.string({ unit: 'grapheme' })), (done) => {
        expect(readWork({ done }).outcome).toBe('not_understood');
      }),
    );
  });

  it('one strange word anywhere in a sentence is enough to leave it alone', () => {
    const sentence = fc.constantFrom(...understood.map(([says]) => says));
    fc.assert(
      fc.property(sentence, strange, fc.nat(), (says, word, at) => {
        const words = says.split(' ');
        words.splice(at % (words.length + 1), 0, word);
        expect(readWork({ done: words.join(' ') }).outcome).toBe('not_understood');
      }),
    );
  });

  it('says the same twice, whatever case and spaces', () => {
    fc.assert(
      fc.property(fc.constantFrom(...understood.map(([says]) => says)), (says) => {
        const loud = readWork({ done: ` ${says.toUpperCase().replaceAll(' ', '  ')} ` });
        const plain = readWork({ done: says });
        expect(loud.outcome).toBe(plain.outcome);
        if (loud.outcome !== 'understood' || plain.outcome !== 'understood') return;
        expect(loud.work.map(({ taskCodes }) => taskCodes)).toEqual(
          plain.work.map(({ taskCodes }) => taskCodes),
        );
      }),
    );
  });

  it('no wording that is refused work becomes work', () => {
    const refusals = [
      'did not replace',
      'no need to replace',
      'recommend replacing',
      'quoted new',
      'customer declined',
      'needs new',
      'will replace',
      'next visit replace',
    ];
    const parts = ['capacitor', 'contactor', 'compressor', 'blower motor', 'transformer'];
    fc.assert(
      fc.property(fc.constantFrom(...refusals), fc.constantFrom(...parts), (refusal, part) => {
        const read = readWork({ done: `checked system, ${refusal} ${part}` });
        expect(read).toEqual({ outcome: 'understood', work: [], taken: [] });
      }),
    );
  });
});
