import type { Lifecycle } from './lifecycle.ts';

export type TicketState =
  | 'new'
  | 'scheduled'
  | 'in_progress'
  | 'waiting_for_part'
  | 'waiting_for_answer'
  | 'work_complete'
  | 'closed'
  | 'resolved_by_phone'
  | 'cancelled';

export type TicketAction =
  | 'resolve_by_phone'
  | 'book'
  | 'unbook'
  | 'arrive'
  | 'await_part'
  | 'await_answer'
  | 'complete_work'
  | 'close'
  | 'cancel'
  | 'reopen';

/**
 * A ticket lives from the call to the closing. `unbook` takes back its only booking (visit
 * cancelled, or nobody let the technician in, whether or not the arrival was noted first);
 * `reopen` is the callback: the same trouble within the warranty days. While a visit is live its
 * ticket cannot be cancelled: the visit is cancelled first, so that the technician is told. Once
 * somebody was there it is closed, not cancelled: what is owed would be lost. A new ticket is closed
 * where it is new again, after a booking that was taken back or a callback.
 */
export const ticketLifecycle: Lifecycle<TicketState, TicketAction> = {
  initial: 'new',
  moves: {
    new: {
      resolve_by_phone: 'resolved_by_phone',
      book: 'scheduled',
      close: 'closed',
      cancel: 'cancelled',
    },
    scheduled: { arrive: 'in_progress', unbook: 'new' },
    in_progress: {
      unbook: 'new',
      await_part: 'waiting_for_part',
      await_answer: 'waiting_for_answer',
      complete_work: 'work_complete',
    },
    waiting_for_part: { book: 'scheduled', close: 'closed' },
    waiting_for_answer: {
      book: 'scheduled',
      complete_work: 'work_complete',
      close: 'closed',
    },
    work_complete: { close: 'closed' },
    closed: { reopen: 'new' },
    resolved_by_phone: {},
    cancelled: {},
  },
};
