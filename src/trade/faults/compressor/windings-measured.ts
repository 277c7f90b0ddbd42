import type { LookedAt } from '../../facts/looked-at.ts';

/** The windings of a compressor were measured, which nobody does with its leads on. */
export const windingsMeasured = [
  { point: 'compressor_c_to_r', quantity: 'resistance' },
  { point: 'compressor_c_to_s', quantity: 'resistance' },
  { point: 'compressor_r_to_s', quantity: 'resistance' },
  { observation: 'compressor_run_to_start_reads_open', answers: ['yes', 'no'] },
] as const satisfies readonly LookedAt[];
