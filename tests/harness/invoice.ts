import { arriveAtJob, findCapacitor, type Job, type QuoteAt, type Site } from './job.ts';
import { readInvoice } from './read-invoice.ts';
import { tagged } from './tagged.ts';
import { type Client, expectStatus, type TestService } from './test-service.ts';
import { acceptOnly, closeTicket, doAll, offer } from './whole-job.ts';

type Answer = Awaited<ReturnType<Client['post']>>;

/** A job whose ticket is closed: a new capacitor was sold, fitted, and is billed by a draft. */
export interface ClosedJob extends Job {
  quote: QuoteAt;
  draft: QuoteAt;
}

/** Sells and fits a new capacitor and closes the ticket. */
export async function closeSoldJob(service: TestService, site?: Site): Promise<ClosedJob> {
  const job = await arriveAtJob(service, site);
  const quote = await offer(service, job, [await findCapacitor(service, job)]);
  const accepted = await acceptOnly(service, quote);
  await doAll(service, job, accepted);
  return { ...job, quote: accepted, draft: await closeTicket(service, job) };
}

/** Sends the issue of a draft as it was seen; the sender looks at the answer. */
export function sendIssue(
  service: TestService,
  { body, tag }: QuoteAt,
  terms: object = {},
): Promise<Answer> {
  const path = `/v1/invoices/${body.id}/issue`;
  return service.as('dispatcher').post(path, terms, { ifMatch: tag });
}

/** Issues a draft. */
export async function issueInvoice(
  service: TestService,
  draft: QuoteAt,
  terms: object = {},
): Promise<QuoteAt> {
  return tagged(expectStatus(await sendIssue(service, draft, terms), 200));
}

/** An issued invoice of a new capacitor. */
export async function billSoldJob(service: TestService, site?: Site): Promise<QuoteAt> {
  return issueInvoice(service, (await closeSoldJob(service, site)).draft);
}

type MoneyVerb = 'payments' | 'refunds' | 'credit-memos';

/** Sends money, or a credit, for an invoice as it was seen; the sender looks at the answer. */
export function sendMoney(
  service: TestService,
  { body, tag }: QuoteAt,
  verb: MoneyVerb,
  money: object,
): Promise<Answer> {
  return service.as('owner').post(`/v1/invoices/${body.id}/${verb}`, money, { ifMatch: tag });
}

/** Moves money, or credits lines, and gives what was made and the invoice afterwards. */
export async function move(
  service: TestService,
  invoice: QuoteAt,
  verb: MoneyVerb,
  money: object,
): Promise<{ made: Answer['body']; invoice: QuoteAt }> {
  const sent = expectStatus(await sendMoney(service, invoice, verb, money), 201);
  return { made: sent.body, invoice: await readInvoice(service, invoice.body.id) };
}

/** Cash, which needs no reference. */
export function cash(amountCents: number): { method: 'cash'; amountCents: number } {
  return { method: 'cash', amountCents };
}

/** Sends the void of a payment of an invoice as it was seen; the sender looks at the answer. */
export function sendVoid(
  service: TestService,
  { tag }: QuoteAt,
  paymentId: string,
): Promise<Answer> {
  const reason = { reason: 'The check came back.' };
  return service.as('owner').post(`/v1/payments/${paymentId}/void`, reason, { ifMatch: tag });
}

/** A credit of one line of an invoice, found by its kind. */
export function creditOf(invoice: QuoteAt, kind: string, amountCents: number): object {
  for (const { position, lines } of invoice.body.documents) {
    const line = lines.find((each: { kind: string }) => each.kind === kind);
    if (line === undefined) continue;
    const lineCredit = { document: position, key: line.key, amountCents };
    return { kind: 'correction', reason: 'Charged by mistake', lines: [lineCredit] };
  }
  throw new Error(`the invoice has no ${kind}`);
}
