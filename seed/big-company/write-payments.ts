import type { Job } from './job.ts';
import { minutesAfter } from './minutes-after.ts';
import type { Pen } from './pen.ts';

/** An issued invoice, as far as it is paid. */
export interface Payable {
  id: string;
  totalCents: number;
  issuedAt: Date;
}

/**
 * Writes what was paid of an invoice up to the present: most of it on the spot, some by mail within
 * weeks, little of it in part or not at all.
 */
export function writePayments(pen: Pen, job: Job, invoice: Payable): void {
  if (invoice.totalCents === 0) return;
  const draw = pen.random.between(0, 100);
  if (draw < 62) {
    const method = pen.random.pick(['card', 'card', 'check', 'cash']);
    pay(pen, job, invoice, { method, at: minutesAfter(invoice.issuedAt, 3), share: 1 });
  } else if (draw < 95) {
    const method = pen.random.pick(['check', 'bank_transfer']);
    const days = pen.random.int(3, 24);
    const share = draw < 92 ? 1 : 0.5;
    pay(pen, job, invoice, { method, at: minutesAfter(invoice.issuedAt, days * 24 * 60), share });
  }
}

function pay(
  pen: Pen,
  { place, dispatcher }: Job,
  { id: invoiceId, totalCents }: Payable,
  { method, at, share }: { method: string; at: Date; share: number },
): void {
  if (at > pen.plan.present) return;
  const id = pen.makeId(at);
  const receiptNumber = pen.next('receipt');
  const amountCents = Math.ceil(totalCents * share);
  pen.add('payment', {
    ...{ id, receiptNumber, invoiceId, method, amountCents },
    reference: method === 'cash' ? null : `No. ${receiptNumber}`,
    paidByName: place.approver.name,
    receivedAt: at,
    recordedAt: at,
    recordedById: dispatcher.id,
  });
  const state = amountCents === totalCents ? 'settled' : 'issued';
  pen.invoiceSteps.push({ step: 'money', invoiceId, state, at });
  pen.note(at, dispatcher, {
    event: 'payment.recorded',
    subject: { kind: 'payment', id },
    before: { state: 'issued' },
    after: { invoiceId, receiptNumber, method, amountCents, receivedAt: at, state },
  });
}
