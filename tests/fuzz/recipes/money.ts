import { warrantedPart } from '../../harness/claims.ts';
import { giveUpOn, paperOf } from '../../harness/delivery.ts';
import { cash, creditOf, move } from '../../harness/invoice.ts';
import type { QuoteAt } from '../../harness/job.ts';
import { expectStatus } from '../../harness/test-service.ts';
import type { Recipe, World } from '../world.ts';
import { toLookAt } from './quote.ts';
import { billed, issued, unsent } from './stages.ts';

const idOf = (invoice: QuoteAt) => ({ invoiceId: String(invoice.body.id) });

/** An invoice that is paid, and a credit beside it: something is owed back. */
async function overpaid(world: World): Promise<QuoteAt> {
  const { service } = world;
  const bill = await billed(world);
  const paid = await move(service, bill, 'payments', cash(bill.body.balanceCents));
  return (await move(service, paid.invoice, 'credit-memos', creditOf(bill, 'labor', 900))).invoice;
}

async function opened(world: World): Promise<string> {
  return world.stock.openedClaims.pop() ?? newClaim(world);
}

async function newClaim({ service }: World): Promise<string> {
  const path = `/v1/part-uses/${await warrantedPart(service)}/claim`;
  return expectStatus(await service.as('dispatcher').post(path), 201).body.id;
}

const happenedOn = '2026-07-14';
const send = { registration: 'REG-1', oldPart: 'returned', happenedOn };

async function sent(world: World): Promise<string> {
  const already = world.stock.sentClaims.pop();
  if (already !== undefined) return already;
  const claimId = await opened(world);
  const dispatcher = world.service.as('dispatcher');
  const ifMatch = (await dispatcher.get(`/v1/claims/${claimId}`)).headers['etag'] ?? '';
  expectStatus(await dispatcher.post(`/v1/claims/${claimId}/send`, send, { ifMatch }), 200);
  return claimId;
}

const quotePaper = (world: World): Promise<string> =>
  world.once('paper', async () =>
    paperOf(world.service, (await toLookAt(world)).job.ticketId, 'quote'),
  );

/** A bill of which some was paid, credited and given back. */
const moved = (world: World) =>
  world.once('moves', async () => {
    const { service } = world;
    const bill = await billed(world);
    const paid = await move(service, bill, 'payments', cash(bill.body.balanceCents));
    const credit = creditOf(bill, 'labor', 900);
    const credited = await move(service, paid.invoice, 'credit-memos', credit);
    const refunded = await move(service, credited.invoice, 'refunds', cash(100));
    return {
      invoiceId: String(bill.body.id),
      paymentId: String(paid.made.id),
      memoId: String(credited.made.id),
      refundId: String(refunded.made.id),
    };
  });

async function askedDelivery(world: World): Promise<string> {
  const { job } = await issued(world);
  const path = `/v1/papers/${await paperOf(world.service, job.ticketId, 'quote')}/deliveries`;
  const to = { to: 'approver', channel: 'text' };
  return expectStatus(await world.service.as('technician').post(path, to), 201).body.id;
}

/** Invoices, what is paid on them, claims, papers and what goes out. */
export const moneyRecipes: Readonly<Record<string, Recipe>> = {
  issueInvoice: async (world) => {
    const { body } = await unsent(world);
    return {
      params: { invoiceId: body.id },
      body: {},
      leaves: () => world.stock.billed.push(body.id),
    };
  },
  getInvoice: async (world) => ({
    params: { invoiceId: (await moved(world)).invoiceId },
    lasts: true,
  }),
  getPayment: async (world) => ({
    params: { paymentId: (await moved(world)).paymentId },
    lasts: true,
  }),
  getRefund: async (world) => ({
    params: { refundId: (await moved(world)).refundId },
    lasts: true,
  }),
  getCreditMemo: async (world) => ({
    params: { memoId: (await moved(world)).memoId },
    lasts: true,
  }),
  recordPayment: async (world) => ({
    params: idOf(await billed(world)),
    body: { method: 'cash', amountCents: 100 },
    lasts: true,
  }),
  voidPayment: async (world) => {
    const bill = await billed(world);
    const { made } = await move(world.service, bill, 'payments', cash(100));
    return {
      params: { paymentId: made.id },
      body: { reason: 'The check came back.' },
      tagAt: `/v1/invoices/${bill.body.id}`,
      leaves: () => world.stock.billed.push(bill.body.id),
    };
  },
  issueCreditMemo: async (world) => {
    const bill = await billed(world);
    return { params: idOf(bill), body: { ...creditOf(bill, 'labor', 100) }, lasts: true };
  },
  recordRefund: async (world) => ({
    params: idOf(await overpaid(world)),
    body: { method: 'cash', amountCents: 100 },
    lasts: true,
  }),
  getBookkeepingEntries: async () => ({
    query: { from: '2026-07-01', to: '2026-07-31' },
    lasts: true,
  }),

  openClaim: async ({ service, stock }) => ({
    params: { partUseId: await warrantedPart(service) },
    leaves: ({ id }) => stock.openedClaims.push(id),
  }),
  getClaim: async (world) => ({ params: { claimId: await opened(world) }, lasts: true }),
  sendClaim: async (world) => {
    const claimId = await newClaim(world);
    return {
      params: { claimId },
      body: send,
      onlyNow: true,
      leaves: () => world.stock.sentClaims.push(claimId),
    };
  },
  withdrawClaim: async (world) => ({
    params: { claimId: await opened(world) },
    body: { reason: 'Of another house.', happenedOn },
  }),
  creditClaim: async (world) => ({
    params: { claimId: await sent(world) },
    body: { amountCents: 2_175, reference: 'CM-1', happenedOn },
  }),
  refuseClaim: async (world) => ({
    params: { claimId: await sent(world) },
    body: { reason: 'Too late.', happenedOn },
  }),

  listPapers: async (world) => ({
    query: { ticketId: (await toLookAt(world)).job.ticketId },
    lasts: true,
  }),
  getPaperFile: async (world) => ({ params: { paperId: await quotePaper(world) }, lasts: true }),
  askDelivery: async (world) => {
    const found = await issued(world);
    return {
      params: { paperId: await paperOf(world.service, found.job.ticketId, 'quote') },
      body: { to: 'approver', channel: 'text' },
      leaves: () => world.stock.issued.push(found),
    };
  },
  getDelivery: async (world) => ({
    params: { deliveryId: await askedDelivery(world) },
    lasts: true,
  }),
  retryDelivery: async (world) => {
    const deliveryId = await askedDelivery(world);
    await giveUpOn(world.service, deliveryId);
    return { params: { deliveryId } };
  },
};
