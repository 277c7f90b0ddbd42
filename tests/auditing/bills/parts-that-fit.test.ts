import { describe, expect, it } from 'vitest';
import type { FiguresSaid } from '../../../src/auditing/bills/figures-said.ts';
import { partsThatFit } from '../../../src/auditing/bills/parts-that-fit.ts';
import type { PartCategory, TaskCode } from '../../../src/trade/index.ts';
import { fairBook } from './fair-book.ts';

/*
 * Of what a bill says of a part, and of nothing else, it depends which of ours may have gone in: a
 * contactor carries at least what the bill says, anything else is what it says. Common practice, no
 * source; the parts are those of the invented book, the dearest first.
 */

const book = fairBook();

const contactors: [FiguresSaid, string[]][] = [
  [{}, ['CON-2P-40-24', 'CON-2P-30-24', 'CON-1P-30-24']],
  [{ amps: 30 }, ['CON-2P-40-24', 'CON-2P-30-24', 'CON-1P-30-24']],
  [{ amps: 31 }, ['CON-2P-40-24']],
  [{ amps: 40 }, ['CON-2P-40-24']],
  [{ amps: 41 }, []],
  [{ poles: 1 }, ['CON-2P-40-24', 'CON-2P-30-24', 'CON-1P-30-24']],
  [{ poles: 2 }, ['CON-2P-40-24', 'CON-2P-30-24']],
  [{ poles: 2, amps: 40 }, ['CON-2P-40-24']],
  [{ poles: 3 }, []],
];
const fuses: [FiguresSaid, string[]][] = [
  [{}, ['FUSE-3A', 'FUSE-5A']],
  [{ amps: 3 }, ['FUSE-3A']],
  [{ amps: 5 }, ['FUSE-5A']],
  [{ amps: 4 }, []],
];

const outdoorUnits: [FiguresSaid, string[]][] = [
  [{}, ['OUT-454B-48', 'OUT-410A-36', 'OUT-454B-36', 'OUT-454B-30']],
  [{ tons: 3 }, ['OUT-410A-36', 'OUT-454B-36']],
  [{ refrigerant: 'R454B' }, ['OUT-454B-48', 'OUT-454B-36', 'OUT-454B-30']],
  [{ tons: 3, refrigerant: 'R-410A' }, ['OUT-410A-36']],
  [{ tons: 4, refrigerant: 'R-410A' }, []],
];
const refrigerants: [FiguresSaid, string[]][] = [
  [{}, ['REF-R-22', 'REF-R-32', 'REF-R-410A', 'REF-R-454B']],
  [{ refrigerant: 'R410a' }, ['REF-R-410A']],
  [{ refrigerant: 'R-134a' }, []],
];

describe('parts of the book that may have gone in', () => {
  it.each(contactors)('contactor said to be %j', (figures, codes) => {
    expect(fitting('contactor', 'replace_contactor', figures)).toEqual(codes);
  });

  it.each(fuses)('fuse of the board said to be %j', (figures, codes) => {
    expect(fitting('control_fuse', 'replace_control_fuse', figures).sort()).toEqual(codes);
  });

  it.each(outdoorUnits)('outdoor unit said to be %j', (figures, codes) => {
    expect(fitting('outdoor_unit', 'replace_outdoor_unit', figures)).toEqual(codes);
  });

  it.each(refrigerants)('refrigerant said to be %j', (figures, codes) => {
    expect(fitting('refrigerant', 'add_refrigerant', figures).sort()).toEqual(codes);
  });
});

function fitting(category: PartCategory, task: TaskCode, figures: FiguresSaid): string[] {
  return partsThatFit(category, task, figures, book).map(({ code }) => code);
}
