import type { MeasureCode } from '../auditing/index.ts';

/** What a measure is called at the head of a column; its whole words stand beside it. */
export const measureLabels: Record<MeasureCode, string> = {
  reset_billed: 'Reset billed',
  unproven: 'No reading',
  above_book: 'Above book',
  came_back: 'Came back',
  dearest_taken: 'Dearest taken',
  solved_by_phone: 'Solved by phone',
  cause_found: 'Cause found',
  cured_first_time: 'Cured first time',
  proven: 'Proven',
  read_after_work: 'Read after',
};
