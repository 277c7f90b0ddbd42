import type { JournalEvent } from '../journal/index.ts';

/**
 * Which tickets are judged again after a change, named by what the entry is of:
 * - `ticket`, `finding`: its own.
 * - `invoice`, `credit_memo`: that of the invoice.
 * - `visit`, `quote`: its own, and every other at which something was found on the same systems: what
 *   was mended before decides what is charged later.
 * - `equipment`: those at which something was found on it.
 * - `site`: all of the site.
 * - `tax_rule`: those of its jurisdiction that ended since it was in force.
 */
export type Touch =
  | 'ticket'
  | 'finding'
  | 'invoice'
  | 'credit_memo'
  | 'visit'
  | 'quote'
  | 'equipment'
  | 'site'
  | 'tax_rule';

/**
 * Every event of the journal, and which tickets it touches. Where the answer is null, no ticket that
 * is over is another one after it: what is recorded of work while a ticket is open is judged when it
 * ends, and what was computed by a price book keeps its inputs.
 */
export const auditTouches: Readonly<Record<JournalEvent, Touch | null>> = {
  'company.set_up': null,
  'company.changed': null,
  'staff.added': null,
  'staff.disabled': null,
  'staff.enabled': null,
  'session.started': null,
  'session.ended': null,
  'sign_in.refused': null,
  'sign_in_link.made': null,
  'password.set': null,
  'second_factor.begun': null,
  'second_factor.turned_on': null,
  'second_factor.ended': null,
  'tax_rule.added': 'tax_rule',
  'tax_rule.ended': 'tax_rule',
  'consumer_rule.added': null,
  'consumer_rule.confirmed': null,
  'consumer_rule.ended': null,
  'customer.added': null,
  'customer.changed': null,
  'customer.erased': null,
  'site.added': null,
  // It may be in another jurisdiction.
  'site.changed': 'site',
  'agreement.added': null,
  'agreement.ended': null,
  'system.added': null,
  'equipment.added': null,
  // Its warranties may run longer than was known.
  'equipment.changed': 'equipment',
  'dispatch_policy.changed': null,
  'technician.changed': null,
  'work_week.added': null,
  'absence.added': null,
  'absence.withdrawn': null,
  // The certificate that the law asks for stands with the person.
  'certificate.added': null,
  'certificate.withdrawn': null,
  'helper.added': null,
  'helper.ended': null,
  'maintenance.scheduled': null,
  'maintenance.opened': null,
  'ticket.opened': null,
  'ticket.moved': 'ticket',
  'priority.given': null,
  'weather.noted': null,
  'phone_check.started': null,
  'phone_check.answered': null,
  'phone_check.ended': null,
  'phone_check.danger_over': null,
  'call_back.promised': null,
  'call_back.made': null,
  'visit.booked': null,
  'visit.planned': null,
  'visit.joined': null,
  'visit.moved': null,
  'day_plan.proposed': null,
  'day_plan.used': null,
  'part.promised': null,
  'reading.recorded': null,
  'observation.recorded': null,
  'work.outcome_recorded': null,
  'part.used': null,
  'part.left_over': null,
  // Another ticket may have been judged by it.
  'work.struck': 'visit',
  'refrigerant.moved': null,
  'ticket.closed': 'ticket',
  'ticket.called_back': 'ticket',
  'photo.added': null,
  'finding.added': null,
  'finding.overridden': 'finding',
  'price_book_draft.begun': null,
  'price_book_draft.changed': null,
  'price_book_draft.dropped': null,
  'price_book_draft.published': null,
  // It is in force from then on, never for what was priced before.
  'price_book.published': null,
  'stock_place.added': null,
  'stock_place.changed': null,
  'stock_target.set': null,
  'stock_target.ended': null,
  'stock.moved': null,
  'supplier_bill.recorded': null,
  'bill_import.taken_in': null,
  'quote.drafted': null,
  'quote.revised': null,
  'quote.confirmed': null,
  'quote.issued': null,
  'quote.accepted': null,
  'acceptance.cancelled': 'quote',
  'quote.declined': null,
  'quote.decline_noted': null,
  'quote.followed_up': null,
  'quote.withdrawn': null,
  'claim.opened': null,
  'claim.moved': null,
  'invoice.opened': null,
  'invoice.issued': 'invoice',
  'payment.recorded': null,
  'payment.voided': null,
  'refund.recorded': null,
  'credit_memo.issued': 'credit_memo',
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

/** The events after which something is judged. */
export const auditEvents = Object.entries(auditTouches).flatMap(([event, touch]) =>
  touch === null ? [] : [event],
);

/** What an event touches; nothing where the journal has learned a word that this process lacks. */
export function touchOf(event: string): Touch | null {
  return event in auditTouches ? auditTouches[event as JournalEvent] : null;
}
