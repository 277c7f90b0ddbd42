import type { MendedMachine, Repair } from '../../src/repair-or-replace/index.ts';
import type { RemedyClass } from '../../src/trade/index.ts';

const today = '2026-07-15';

/** An outdoor unit so many years old today; of unknown age when undefined. */
export function machineOf(
  ageYears: number | undefined,
  change: Partial<MendedMachine> = {},
): MendedMachine {
  return {
    today,
    kind: 'condensing_unit',
    tons: 3,
    refrigerant: 'R-410A',
    ...(ageYears !== undefined && { installedOn: `${2026 - ageYears}-07-15` }),
    ...change,
  };
}

type Part = Repair['work'][number]['parts'][number];

/** A repair for so many dollars, with a part that no warranty covers unless others are given. */
export function repairFor(
  dollars: number,
  {
    remedyClass = 'replace',
    parts = [neverCovered],
  }: { remedyClass?: RemedyClass; parts?: Part[] } = {},
): Repair {
  return { repairCents: Math.round(dollars * 100), work: [{ remedyClass, parts }] };
}

export const neverCovered: Part = { name: 'Refrigerant', warrantyClass: 'none' };
export const ofUnit: Part = { name: 'Fan motor', warrantyClass: 'unit' };
export const compressor: Part = { name: 'Compressor', warrantyClass: 'compressor' };
