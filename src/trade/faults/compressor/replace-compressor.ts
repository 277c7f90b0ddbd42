import type { Remedy } from '../fault.ts';

/** A new compressor comes with a new filter drier and a weighed charge. */
export const replaceCompressor = [
  {
    task: 'replace_compressor',
    remedyClass: 'replace',
    needs: 'proven',
    partCategories: ['compressor', 'filter_drier', 'refrigerant'],
  },
] as const satisfies readonly Remedy[];
