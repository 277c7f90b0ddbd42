import type { Trip } from '../find-and-offer.ts';
import type { Job } from '../job.ts';
import type { MemoOf } from '../write-memo.ts';

/** What is given back of a bill right after it was issued. */
export function memoOfTurn({ turn, number }: Job, { offered: { sold } }: Trip): MemoOf | undefined {
  switch (turn?.name) {
    case 'goodwill':
      return { kind: 'goodwill', ofClass: number % 2 === 0 ? 'part' : 'labor', share: 0.2 };
    case 'tax_put_right':
      return sold?.honest && { kind: 'correction', taxDue: sold.honest.inputs.tax };
    default:
      return undefined;
  }
}
