import { arriveAtJob, findCapacitor, type Job, type Site } from '../harness/job.ts';
import { expectStatus, type TestService } from '../harness/test-service.ts';
import { acceptOnly, closeTicket, doAll, offer, type TaggedAnswer } from '../harness/whole-job.ts';
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
  const findingId = await findCapacitor(service, job);
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
export async function overcharge(
  service: Pick<TestService, 'owner'>,
  { invoice }: Pick<BilledJob, 'invoice'>,
  byCents: number,
): Promise<void> {
  await pastGuards(service, OVERCHARGE, [invoice.body.id, byCents]);
}

const ofDocument = `FROM invoice_document d JOIN invoice_line l
  ON l.invoice_id = d.invoice_id AND l.document = d.position
  WHERE d.invoice_id = $1 AND l.kind = 'labor' AND d.kind = 'accepted'`;

const OVERCHARGE = [
  `UPDATE quote_line q SET amount_cents = q.amount_cents + $2
     FROM (SELECT d.option_id, l.key ${ofDocument}) x
     WHERE q.option_id = x.option_id AND q.key = x.key`,
  `UPDATE quote_option o SET total_cents = o.total_cents + $2
     FROM (SELECT d.option_id ${ofDocument}) x WHERE o.id = x.option_id`,
  `UPDATE quote_acceptance a SET total_cents = a.total_cents + $2
     FROM (SELECT d.quote_id ${ofDocument}) x WHERE a.quote_id = x.quote_id`,
  `UPDATE invoice_document d SET total_cents = d.total_cents + $2
     WHERE d.invoice_id = $1 AND d.kind = 'accepted'`,
  `UPDATE invoice_line SET amount_cents = amount_cents + $2 WHERE invoice_id = $1 AND kind = 'labor'`,
  `UPDATE invoice_issue SET total_cents = total_cents + $2
     WHERE invoice_id = $1`,
];
