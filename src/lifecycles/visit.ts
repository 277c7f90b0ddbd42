import type { Lifecycle } from './lifecycle.ts';

export type VisitState =
  | 'booked'
  | 'on_the_way'
  | 'on_site'
  | 'finished'
  | 'no_access'
  | 'cancelled';

export type VisitAction = 'start_travel' | 'arrive' | 'finish' | 'report_no_access' | 'cancel';

/** One trip of one technician. A live visit (the first three states) holds its window. */
export const visitLifecycle: Lifecycle<VisitState, VisitAction> = {
  initial: 'booked',
  moves: {
    booked: { start_travel: 'on_the_way', cancel: 'cancelled' },
    on_the_way: { arrive: 'on_site', report_no_access: 'no_access', cancel: 'cancelled' },
    on_site: { finish: 'finished', report_no_access: 'no_access' },
    finished: {},
    no_access: {},
    cancelled: {},
  },
};
