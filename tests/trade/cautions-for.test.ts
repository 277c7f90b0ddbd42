import { describe, expect, test } from 'vitest';
import { openCircuitCautions } from '../../src/trade/faults/cautions.ts';
import {
  cautionsFor,
  type FaultCode,
  faultCodeSchema,
  findFault,
  handlesRefrigerant,
  type Machine,
  type Nameplate,
  type TaskCode,
} from '../../src/trade/index.ts';
import { a2lCautions } from '../../src/trade/refrigerant/service-cautions.ts';

const outdoors = (nameplate: Nameplate): Machine => ({
  id: 'unit-1',
  kind: 'condensing_unit',
  nameplate,
});
const indoors: Machine = { id: 'unit-2', kind: 'air_handler', nameplate: {} };
const own = (fault: FaultCode): readonly string[] => findFault(fault)?.cautions ?? [];
const readTheName = expect.stringContaining('Read on the nameplate which refrigerant is inside');

describe('a fault whose remedy opens the circuit brings the cautions of the refrigerant', () => {
  test.each<[name: string, plate: Nameplate, more: unknown[]]>([
    ['R-410A does not burn', { refrigerant: 'R-410A' }, []],
    ['R-454B burns', { refrigerant: 'R-454B' }, [...a2lCautions]],
    ['R-32, however it is written', { refrigerant: 'r32' }, [...a2lCautions]],
    ['a mark for A2L with no name', { markedForA2l: true }, [...a2lCautions]],
    ['nobody read the plate', {}, [readTheName]],
    ['one we do not know', { refrigerant: 'R-290' }, [readTheName]],
  ])('%s', (_name, plate, more) => {
    for (const fault of ['low_charge', 'compressor_locked', 'stuck_reversing_valve'] as const) {
      expect(cautionsFor(fault, [outdoors(plate), indoors])).toEqual([...own(fault), ...more]);
    }
  });

  test('the plate of any machine of the system is enough, for the refrigerant runs through all', () => {
    const machines = [indoors, outdoors({ refrigerant: 'R-32' })];
    expect(cautionsFor('failed_metering_device', machines)).toEqual([
      ...own('failed_metering_device'),
      ...a2lCautions,
    ]);
  });
});

test('where no remedy touches the circuit, nothing is said of its refrigerant', () => {
  for (const fault of faultCodeSchema.options) {
    if (findFault(fault)?.remedies.some(({ task }) => handlesRefrigerant(task))) continue;
    expect(cautionsFor(fault, [outdoors({ refrigerant: 'R-454B' })]), fault).toEqual(own(fault));
  }
});

// What is unbrazed, cut or unscrewed; charging and recovering leave the circuit whole.
const opening: readonly TaskCode[] = [
  'replace_compressor',
  'replace_outdoor_unit',
  'repair_leak',
  'replace_filter_drier',
  'replace_metering_device',
  'replace_reversing_valve',
];
const movesCharge: readonly TaskCode[] = ['add_refrigerant', 'remove_refrigerant', 'renew_charge'];

test('every task that handles refrigerant either opens the circuit or moves its charge', () => {
  const handled = faultCodeSchema.options
    .flatMap((fault) => findFault(fault)?.remedies ?? [])
    .map(({ task }) => task)
    .filter(handlesRefrigerant);
  expect(new Set(handled)).toEqual(new Set([...opening, ...movesCharge]));
});

test.each(faultCodeSchema.options)('%s warns of the circuit that its remedy opens', (fault) => {
  const tasks = findFault(fault)?.remedies.map(({ task }) => task) ?? [];
  const due = tasks.some((task) => opening.includes(task)) ? openCircuitCautions : [];
  expect(own(fault)).toEqual(expect.arrayContaining([...due]));
});
