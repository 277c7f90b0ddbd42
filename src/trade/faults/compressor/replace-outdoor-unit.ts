import type { Remedy } from '../fault.ts';

/**
 * The other way to mend a dead compressor, never instead of offering a new one: the whole unit
 * around it. It comes charged and with its filter drier. A package unit has no unit outdoors that
 * could be changed alone, and the one of a mini split belongs to its indoor units.
 */
export const replaceOutdoorUnit = [
  {
    task: 'replace_outdoor_unit',
    remedyClass: 'replace',
    needs: 'proven',
    partCategories: ['outdoor_unit'],
    kinds: ['condensing_unit', 'heat_pump'],
  },
] as const satisfies readonly Remedy[];
