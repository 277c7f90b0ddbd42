import { findWornContactor } from '../harness/findings.ts';
import { arriveAtJob, findCapacitor, type Job, type Site } from '../harness/job.ts';
import { expectStatus, type TestService } from '../harness/test-service.ts';
import { acceptOnly, closeTicket, doAll, offer, type TaggedAnswer } from '../harness/whole-job.ts';
import { comeBack, sendReopen } from '../harness/work.ts';
import { pastGuards } from './past-guards.ts';

/** A capacitor from the call to the issued invoice. */
export interface BilledJob extends Job {
  findingId: string;
  quote: TaggedAnswer;
  invoice: TaggedAnswer;
}

/** Walks a whole job through the API: called for, found, agreed to, done and billed. */
export async function billedJob(service: TestService, site?: Site): Promise<BilledJob> {
  const job = await arriveAtJob(service, site);
  return billed(service, job, await findCapacitor(service, job));
}

/** The customer of a billed job calls again, and something else is found, agreed to, done and billed. */
export async function billedAgain(service: TestService, job: BilledJob): Promise<BilledJob> {
  expectStatus(await sendReopen(service, job.ticketId), 200);
  const again = await comeBack(service, job, 'callback');
  return billed(service, again, await findWornContactor(service, again));
}

async function billed(service: TestService, job: Job, findingId: string): Promise<BilledJob> {
  const quote = await acceptOnly(service, await offer(service, job, [findingId]));
  await doAll(service, job, quote);
  const draft = await closeTicket(service, job);
  const path = `/v1/invoices/${draft.body.id}/issue`;
  const issued = await service.as('dispatcher').post(path, {}, { ifMatch: draft.tag });
  const { body, headers } = expectStatus(issued, 200);
  return { ...job, findingId, quote, invoice: { body, tag: headers['etag'] ?? '' } };
}

/**
 * Bills the labor of a job at more than it came to, everywhere it stands, the way only somebody can
 * who writes past the application and its guards. Sums still add up; labor is not taxed.
 */
export function overcharge(
  service: Pick<TestService, 'owner'>,
  { invoice }: Pick<BilledJob, 'invoice'>,
  byCents: number,
): Promise<void> {
  return pastGuards(service, raising('labor'), [invoice.body.id, byCents]);
}

/** The same with the tax of a job, and nothing else of it. */
export function overtax(
  service: Pick<TestService, 'owner'>,
  { invoice }: Pick<BilledJob, 'invoice'>,
  byCents: number,
): Promise<void> {
  return pastGuards(service, raising('tax'), [invoice.body.id, byCents]);
}

function raising(kind: 'labor' | 'tax'): string[] {
  const ofDocument = `FROM invoice_document d JOIN invoice_line l
    ON l.invoice_id = d.invoice_id AND l.document = d.position
    WHERE d.invoice_id = $1 AND l.kind = '${kind}' AND d.kind = 'accepted'`;
  const sums = `total_cents = total_cents + $2${kind === 'tax' ? ', tax_cents = tax_cents + $2' : ''}`;
  return [
    `UPDATE quote_line q SET amount_cents = q.amount_cents + $2
       FROM (SELECT d.option_id, l.key ${ofDocument}) x
       WHERE q.option_id = x.option_id AND q.key = x.key`,
    `UPDATE quote_option SET ${sums} WHERE id IN (SELECT d.option_id ${ofDocument})`,
    `UPDATE quote_acceptance SET total_cents = total_cents + $2
       WHERE quote_id IN (SELECT d.quote_id ${ofDocument})`,
    `UPDATE invoice_document SET ${sums} WHERE invoice_id = $1 AND kind = 'accepted'`,
    `UPDATE invoice_line SET amount_cents = amount_cents + $2
       WHERE invoice_id = $1 AND kind = '${kind}'`,
    `UPDATE invoice_issue SET ${sums} WHERE invoice_id = $1`,
  ];
}
