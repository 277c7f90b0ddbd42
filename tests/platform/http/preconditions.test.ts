import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { routes } from '../../../src/app.ts';
import { flaggedJob } from '../../audits/judged.ts';
import { warrantedPart } from '../../harness/claims.ts';
import { askText } from '../../harness/delivery.ts';
import { beginDraft } from '../../harness/draft.ts';
import { billSoldJob, cash, move } from '../../harness/invoice.ts';
import {
  arriveAtJob,
  bookJob,
  draftQuote,
  findCapacitor,
  issueQuote,
  type Job,
  type QuoteAt,
} from '../../harness/job.ts';
import { solveCall } from '../../harness/phone-checks.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../../harness/test-service.ts';

let service: TestService;
let job: Job;
let quote: QuoteAt;
/** What stands beside the job: a draft of the book, an agreement, a truck with a target, a bill. */
let beside: Record<
  | 'draftId'
  | 'agreementId'
  | 'placeId'
  | 'invoiceId'
  | 'paymentId'
  | 'claimId'
  | 'deliveryId'
  | 'callBackId'
  | 'flagId',
  string
>;
beforeAll(async () => {
  service = await createTestService();
  job = await arriveAtJob(service);
  quote = await issueQuote(
    service,
    await draftQuote(service, job, [await findCapacitor(service, job)]),
  );
  beside = await addBeside();
});
afterAll(() => service.close());

async function addBeside(): Promise<typeof beside> {
  const dispatcher = service.as('dispatcher');
  const made = async (path: string, body: object): Promise<string> =>
    expectStatus(await dispatcher.post(path, body), 201).body.id;
  const placeId = await made('/v1/stock-places', { name: 'Shelves', kind: 'shelves' });
  await made(`/v1/stock-places/${placeId}/targets`, { partCode, reorderAt: '1', orderUpTo: '4' });
  return {
    draftId: (await beginDraft(service)).id,
    agreementId: await made(`/v1/sites/${job.siteId}/agreements`, {
      planCode: 'two_visits',
      startsOn: '2026-01-01',
      endsOn: '2027-01-01',
      agreedByName: 'Winifred Ashgrove',
    }),
    placeId,
    ...(await payABill()),
    claimId: await made(`/v1/part-uses/${await warrantedPart(service)}/claim`, {}),
    deliveryId: await askText(service, job.ticketId),
    callBackId: await promisedCallBack(),
    flagId: (await flaggedJob(service)).flagId,
  };
}

async function promisedCallBack(): Promise<string> {
  const { ticketId } = await solveCall(service);
  return (await service.db.prisma.callBack.findUniqueOrThrow({ where: { ticketId } })).id;
}

async function payABill(): Promise<Record<'invoiceId' | 'paymentId', string>> {
  const { made, invoice } = await move(service, await billSoldJob(service), 'payments', cash(100));
  return { invoiceId: invoice.body.id, paymentId: made.id };
}

/**
 * Starts requests while their row is held, and lets it go when every one of them waits for it: so
 * they meet on every run, not by chance.
 */
async function allAtOnce<T>(
  table: 'customer' | 'equipment',
  id: string,
  count: number,
  start: () => Promise<T>[],
): Promise<T[]> {
  const holder = await service.owner.connect();
  try {
    await holder.query('BEGIN');
    await holder.query(`SELECT 1 FROM ${table} WHERE id = $1 FOR UPDATE`, [id]);
    const running = start();
    const everybodyWaits = async () => {
      const waiting = await service.owner.query(
        `SELECT count(*)::int AS rows FROM pg_stat_activity
         WHERE datname = current_database() AND wait_event_type = 'Lock'`,
      );
      expect(waiting.rows[0].rows).toBe(count);
    };
    // Shorter than the lock timeout of those who wait.
    await vi.waitFor(everybodyWaits, { timeout: 1_900, interval: 10 });
    await holder.query('COMMIT');
    return await Promise.all(running);
  } finally {
    // Closing the connection lets go of the row whatever happened.
    holder.release(true);
  }
}

const hash = '0'.repeat(64);
const partCode = 'CON-2P-30-24';
const options = [{ title: 'Repair', findingIds: [] }];

/** A well-formed body for every route that changes a versioned thing. */
const bodies: Record<string, object | string> = {
  changePriceBookDraft: { note: 'Next spring' },
  replacePriceBookDraftList: 'code,name\n',
  publishPriceBookDraft: { effectiveFrom: '2030-01-01T00:00:00Z' },
  dropPriceBookDraft: {},
  changeCompany: { phone: '555-0190' },
  changeDispatchPolicy: { mph: 30 },
  changeTechnician: { skills: ['cooling'] },
  setMaintenance: { months: [4, 10], minutes: 60 },
  endAgreement: { endsOn: '2026-12-01' },
  confirmRefrigerantRules: { statement: 'The rules were read.' },
  changeStockPlace: { name: 'Back shelves' },
  changeStockTarget: { reorderAt: '2', orderUpTo: '5' },
  endStockTarget: {},
  changeCustomer: { name: 'Winifred Elm' },
  eraseCustomer: { reason: 'Asked for it by letter.' },
  changeSite: { accessNotes: 'The key is next door.' },
  changeEquipment: { serial: 'S-1' },
  resolveTicketByPhone: {
    answers: [{ code: 'thermostat_calling_cooling', answer: 'no' }],
    whatHelped: 'Setting the thermostat to cool.',
  },
  cancelTicket: { reason: 'The caller changed their mind.' },
  answerPhoneCheck: { questionCode: 'gas_smell', answer: 'no' },
  endPhoneCheck: { outcome: 'broken_off' },
  recordDangerOver: { note: 'It was the stove.' },
  makeCallBack: { outcome: 'still_fine' },
  promisePart: { what: 'The motor', promisedOn: '2027-03-04', toldTo: 'Winifred Ashgrove' },
  closeTicket: { complaintGone: 'yes', conditionLeft: 'Running.' },
  reopenTicket: { complaint: 'It is warm again.' },
  startTravel: {},
  arrive: {},
  finishVisit: { ticketIs: 'work_complete' },
  reportNoAccess: { reason: 'Nobody at home.' },
  cancelVisit: { reason: 'The caller changed their mind.' },
  rebookVisit: { askedBy: 'company', reason: 'The truck broke down.' },
  planVisit: { planned: { start: '2026-07-20T18:00:00Z', minutes: 60 } },
  reviseQuote: { options },
  issueQuote: {},
  withdrawQuote: {},
  acceptQuote: {
    optionId: randomUUID(),
    acceptedByName: 'Winifred Ashgrove',
    consentText: 'Yes.',
    shownTotalCents: 1,
    shownContentHash: hash,
  },
  declineQuote: { declinedByName: 'Winifred Ashgrove', conditionLeft: 'Off.' },
  issueInvoice: {},
  recordPayment: cash(1),
  voidPayment: { reason: 'The check came back.' },
  recordRefund: cash(1),
  issueCreditMemo: {
    kind: 'goodwill',
    reason: 'We were late.',
    lines: [{ document: 1, key: 'fee', amountCents: 1 }],
  },
  partialYes: { optionId: randomUUID(), findingIds: [randomUUID()] },
  sendClaim: { registration: 'REG-1', oldPart: 'returned', happenedOn: '2026-07-14' },
  creditClaim: { amountCents: 1, reference: 'CM-1', happenedOn: '2026-07-14' },
  refuseClaim: { reason: 'Too late.', happenedOn: '2026-07-14' },
  retryDelivery: {},
  withdrawClaim: { reason: 'Of another house.', happenedOn: '2026-07-14' },
  acceptAuditFlag: {},
  dismissAuditFlag: { reason: 'Agreed by phone.' },
  cancelAcceptance: { cancelledByName: 'Winifred Ashgrove', noticeText: 'I cancel.' },
};

const conditional = routes.flatMap((route) =>
  route.kind === 'act' && route.ifMatch ? [{ ...route, name: route.operationId }] : [],
);

describe('whoever changes a versioned thing says which version they mean', () => {
  it('holds for exactly the routes known here', () => {
    expect(conditional.map(({ name }) => name).sort()).toEqual(Object.keys(bodies).sort());
  });

  it.each(conditional)('$name without If-Match is refused with 428', async (route) => {
    const path = addressOf(route.path, () => randomUUID());
    const refused = await sendTo({ ...route, path }, {});
    expectProblem(expectStatus(refused, 428), 'precondition-required');
  });

  it.each(conditional)('$name on another version is refused with 412', async (route) => {
    const ids: Record<string, string> = {
      customerId: job.customerId,
      siteId: job.siteId,
      equipmentId: job.outdoorId,
      ticketId: job.ticketId,
      visitId: job.visitId,
      quoteId: quote.body.id,
      technicianId: service.staff.technician.id,
      ...beside,
    };
    const path = addressOf(route.path, (name) => ids[name] ?? '');
    const refused = await sendTo({ ...route, path }, { ifMatch: '"v99"' });
    expectProblem(expectStatus(refused, 412), 'version-changed');
    // A place has no version of its own: its tag is a hash of what can be changed.
    expect(refused.body.currentETag).toMatch(/^"(v\d+(\.\d+)?|[0-9a-f]{16,64})"$/);
  });
});

/** A route's address; a list is one of the lists, a part one with a target. */
function addressOf(path: string, idFor: (name: string) => string): string {
  const named: Record<string, string> = { list: 'tiers', partCode };
  return path.replace(/:(\w+)/g, (_, name: string) => named[name] ?? idFor(name));
}

function sendTo(
  { operationId, method, path }: { operationId: string; method: string; path: string },
  options: { ifMatch?: string },
) {
  const body = bodies[operationId] ?? {};
  const client = service.as('owner');
  if (typeof body === 'string') return client.send(path, 'text/csv', Buffer.from(body), options);
  return method === 'PATCH' ? client.patch(path, body, options) : client.post(path, body, options);
}

describe('several who change the same version at once', () => {
  it.each([
    ['customer', () => job.customerId, '/v1/customers', 'name'],
    ['equipment', () => job.outdoorId, '/v1/equipment', 'serial'],
  ] as const)('of a %s: one wins, the others are told', async (table, idOf, list, field) => {
    const owner = service.as('owner');
    const address = `${list}/${idOf()}`;
    const { headers, body } = expectStatus(await owner.get(address), 200);
    const ifMatch = headers['etag'] ?? '';
    const values = Array.from({ length: 8 }, (_, at) => `Number ${at}`);
    const changes = await allAtOnce(table, idOf(), values.length, () =>
      values.map((value) => owner.patch(address, { [field]: value }, { ifMatch })),
    );
    expect(changes.map(({ status }) => status).sort()).toEqual([200, ...Array(7).fill(412)]);
    const winner = changes.find(({ status }) => status === 200);
    const now = await owner.get(address);
    expect(now.body).toEqual(winner?.body);
    expect(now.body.version).toBe(body.version + 1);
    const entries = await service.owner.query(
      "SELECT count(*)::int AS rows FROM journal_entry WHERE subject_id = $1 AND event LIKE '%.changed'",
      [body.id],
    );
    expect(entries.rows[0].rows).toBe(1);
  });

  it('of a visit: it starts once', async () => {
    const next = await bookJob(service);
    const technician = service.as('technician');
    const start = () =>
      technician.post(`/v1/visits/${next.visitId}/start-travel`, {}, { ifMatch: next.visitTag });
    const answers = await Promise.all([start(), start(), start()]);
    expect(answers.map(({ status }) => status).sort()).toEqual([200, 412, 412]);
  });
});

describe('who has the present version already is told so', () => {
  const versioned = [
    ['customer', () => `/v1/customers/${job.customerId}`],
    ['site', () => `/v1/sites/${job.siteId}`],
    ['machine', () => `/v1/equipment/${job.outdoorId}`],
    ['ticket', () => `/v1/tickets/${job.ticketId}`],
    ['visit', () => `/v1/visits/${job.visitId}`],
    ['quote', () => `/v1/quotes/${quote.body.id}`],
    ['paper', () => `/v1/quotes/${quote.body.id}/paper`],
  ] as const;

  it.each(versioned)('by 304 without a body: %s', async (_, address) => {
    const client = service.as('technician');
    const etag = expectStatus(await client.get(address()), 200).headers['etag'] ?? '';
    for (const header of [etag, `W/${etag}`, `"other", ${etag}`, '*']) {
      const unchanged = expectStatus(await client.get(address(), { 'if-none-match': header }), 304);
      expect(unchanged.text).toBe('');
      expect(unchanged.headers['etag']).toBe(etag);
    }
    expectStatus(await client.get(address(), { 'if-none-match': '"other"' }), 200);
  });

  it('and gets a site again when it has a new system', async () => {
    const client = service.as('technician');
    const address = `/v1/sites/${job.siteId}`;
    const etag = (await client.get(address)).headers['etag'] ?? '';
    expectStatus(await client.post(`${address}/systems`, { name: 'Upstairs' }), 201);
    const again = expectStatus(await client.get(address, { 'if-none-match': etag }), 200);
    expect(again.body.systems.map(({ name }: { name: string }) => name)).toEqual([
      'Main floor',
      'Upstairs',
    ]);
  });

  it('and gets a quote again when it has expired, although nobody changed it', async () => {
    const client = service.as('technician');
    const address = `/v1/quotes/${quote.body.id}`;
    const present = await client.get(address);
    const until = new Date(present.body.validUntil);
    service.clock.set(until.toISOString());
    const etag = present.headers['etag'] ?? '';
    const again = expectStatus(await client.get(address, { 'if-none-match': etag }), 200);
    expect(again.body.expired).toBe(true);
  });
});
