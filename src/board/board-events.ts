import type { JournalEvent } from '../journal/index.ts';

/**
 * What of the board a change concerns, and so who is told of it besides the office, which is told of
 * all:
 * - `visit`: a visit in its column; its technician.
 * - `ticket`, `household`: what is known of a home; whoever has a live visit there.
 * - `technician`: the hours of somebody; whoever they are, a helper too.
 * - `office`: what waits beside the columns; nobody else.
 * - `everybody`: what every column is reckoned from.
 */
export type Concern = 'visit' | 'ticket' | 'household' | 'technician' | 'office' | 'everybody';

/**
 * Every event of the journal, and whether a board that is looked at may be another one after it.
 * Where the answer is null, nothing that a board shows can have changed.
 */
export const boardConcerns: Readonly<Record<JournalEvent, Concern | null>> = {
  'company.set_up': null,
  'company.changed': null,
  // A column of its own, and in nobody else’s.
  'staff.added': 'office',
  'staff.disabled': 'office',
  'staff.enabled': 'office',
  'session.started': null,
  'session.ended': null,
  'sign_in.refused': null,
  'sign_in_link.made': null,
  'password.set': null,
  'second_factor.begun': null,
  'second_factor.turned_on': null,
  'second_factor.ended': null,
  'tax_rule.added': null,
  'tax_rule.ended': null,
  'consumer_rule.added': null,
  'consumer_rule.confirmed': null,
  'consumer_rule.ended': null,
  'customer.added': null,
  'customer.changed': 'household',
  'customer.erased': 'household',
  'site.added': null,
  'site.changed': 'household',
  // An agreement brings its site forward among those that wait, and makes maintenance due.
  'agreement.added': 'office',
  'agreement.ended': 'office',
  'system.added': null,
  'equipment.added': null,
  'equipment.changed': null,
  // How fast trucks are reckoned to drive, and from where, moves what is expected.
  'dispatch_policy.changed': 'everybody',
  // Where the company has no base, a base of one is where homes are taken to be that nobody placed.
  'technician.changed': 'everybody',
  'work_week.added': 'technician',
  'absence.added': 'technician',
  'absence.withdrawn': 'technician',
  'certificate.added': null,
  'certificate.withdrawn': null,
  'helper.added': 'technician',
  'helper.ended': 'technician',
  'maintenance.scheduled': 'office',
  'maintenance.opened': 'office',
  'ticket.opened': 'ticket',
  'ticket.moved': 'ticket',
  'priority.given': 'ticket',
  'weather.noted': 'office',
  'phone_check.started': 'ticket',
  'phone_check.answered': 'ticket',
  'phone_check.ended': 'ticket',
  'phone_check.danger_over': 'ticket',
  'call_back.promised': 'ticket',
  'call_back.made': 'ticket',
  'visit.booked': 'visit',
  'visit.planned': 'visit',
  'visit.joined': 'visit',
  // A plan is a proposal; what its use moves has entries of its own.
  'day_plan.proposed': null,
  'day_plan.used': null,
  'visit.moved': 'visit',
  'part.promised': 'ticket',
  'reading.recorded': null,
  'observation.recorded': null,
  'work.outcome_recorded': null,
  'part.used': null,
  'part.left_over': null,
  'work.struck': null,
  'refrigerant.moved': null,
  // It moves the ticket, which has an entry of its own.
  'ticket.closed': null,
  'ticket.called_back': 'ticket',
  'photo.added': null,
  'finding.added': null,
  'finding.overridden': null,
  'price_book_draft.begun': null,
  'price_book_draft.changed': null,
  'price_book_draft.dropped': null,
  'price_book_draft.published': null,
  'price_book.published': null,
  'stock_place.added': null,
  'stock_place.changed': null,
  'stock_target.set': null,
  'stock_target.ended': null,
  // The part that a ticket waits for may have come.
  'stock.moved': 'office',
  'supplier_bill.recorded': null,
  'bill_import.taken_in': null,
  'quote.drafted': null,
  'quote.revised': null,
  'quote.confirmed': null,
  'quote.issued': null,
  'quote.accepted': null,
  'acceptance.cancelled': null,
  'quote.declined': null,
  'quote.decline_noted': null,
  'quote.followed_up': null,
  'quote.withdrawn': null,
  'claim.opened': null,
  'claim.moved': null,
  'invoice.opened': null,
  'invoice.issued': null,
  'payment.recorded': null,
  'payment.voided': null,
  'refund.recorded': null,
  'credit_memo.issued': null,
  'audit_flag.accepted': null,
  'audit_flag.dismissed': null,
  'audit_run.started': null,
  'audit_run.finished': null,
  'quote_link.made': null,
  'quote_link.revoked': null,
  'calendar_feed.made': null,
  'calendar_feed.revoked': null,
  'paper.rendered': null,
  'paper_key.registered': null,
  'delivery.asked': null,
  'delivery.handed_over': null,
  'delivery.put_off': null,
  'delivery.sent': null,
  'delivery.given_up': null,
  'delivery.retried': null,
};

/** The events of which a board is told. */
export const boardEvents = Object.entries(boardConcerns).flatMap(([event, concern]) =>
  concern === null ? [] : [event],
);

/** Those of a home, which reach whoever is sent there. */
export const homeEvents = boardEvents.filter((event) => {
  const concern = concernOf(event);
  return concern === 'ticket' || concern === 'household';
});

/** What an event concerns; nothing where the journal has learned a word that this process lacks. */
export function concernOf(event: string): Concern | null {
  return event in boardConcerns ? boardConcerns[event as JournalEvent] : null;
}
