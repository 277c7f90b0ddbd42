import { randomBytes, randomUUID } from 'node:crypto';
import { consumerRules } from '../../seed/consumer-rules.ts';
import { flaggedJob } from '../audits/judged.ts';
import { warrantedPart } from '../harness/claims.ts';
import { askText, paperOf } from '../harness/delivery.ts';
import { beginDraft } from '../harness/draft.ts';
import { billSoldJob, cash, creditOf, move } from '../harness/invoice.ts';
import { addSite, arriveAtJob, bookJob, freeWindow, type Job } from '../harness/job.ts';
import { lookAfter } from '../harness/maintenance.ts';
import { openDays } from '../harness/open-days.ts';
import { solveCall } from '../harness/phone-checks.ts';
import { addPhoto } from '../harness/photos.ts';
import { billOf, openShop, type Shop } from '../harness/shop.ts';
import { expectStatus, type TestService } from '../harness/test-service.ts';
import { type Offer, offerAtLink } from '../harness/visitor.ts';
import { capacitor, type Sold, sellCapacitor, sendOutcome, sendPart } from '../harness/work.ts';

/**
 * A company in which there is one of everything that an address can name. All that belongs to a
 * technician is the first one's: so it is that one's own, and foreign to the second, who has a job
 * elsewhere.
 */
export interface World {
  service: TestService;
  /** What each parameter of an address names, by its name. */
  ids: Readonly<Record<string, string>>;
  /** The technician is there, and a yes was given. */
  job: Job;
  sold: Sold;
  shop: Shop;
  /** A quote at a link, and another customer's. */
  offers: readonly [Offer, Offer];
}

/** Makes everything once. */
export async function buildWorld(service: TestService): Promise<World> {
  const shop = await openShop(service);
  await openDays(service);
  const { job, sold, ids } = await jobAtWork(service);
  const offers = [await offerAtLink(service), await offerAtLink(service)] as const;
  await bookElsewhere(service);
  const madeIds = {
    ...ids,
    ...(await atOffer(service, offers[0])),
    ...(await money(service)),
    ...(await stock(service, shop)),
    ...(await ownersDesk(service)),
    ...(await officeDesk(service)),
    ...(await people(service)),
  };
  return { service, ids: madeIds, job, sold, shop, offers };
}

/** What is recorded of the work at a visit, each once. */
async function jobAtWork(service: TestService) {
  const job = await arriveAtJob(service);
  const sold = await sellCapacitor(service, job);
  const { quoteId, findingId } = sold;
  const sha256 = await addPhoto(service, job, 'a bulged can');
  const technician = service.as('technician');
  const visit = `/v1/visits/${job.visitId}`;
  const partUse = expectStatus(await sendPart(service, job.visitId, sold), 201).body;
  const outcome = expectStatus(await sendOutcome(service, job.visitId, sold), 201).body;
  const moved = await technician.post(`${visit}/refrigerant-moves`, {
    ...{ equipmentId: job.outdoorId, refrigerant: 'R-410A', direction: 'recovered' },
    ...{ cylinder: 'C-7', beforeOz: '10', afterOz: '26.5' },
  });
  const other = await arriveAtJob(service);
  const { oldPart: _, ...part } = capacitor;
  const { quote: _quote, ...otherSold } = await sellCapacitor(service, other);
  const leftOver = await technician.post(`/v1/visits/${other.visitId}/parts-left-over`, {
    ...otherSold,
    ...part,
    reason: 'The old one was good.',
  });
  const ids = {
    customerId: job.customerId,
    siteId: job.siteId,
    systemId: job.systemId,
    equipmentId: job.outdoorId,
    ticketId: job.ticketId,
    visitId: job.visitId,
    findingId,
    quoteId,
    sha256,
    partUseId: partUse.id,
    workOutcomeId: outcome.id,
    partLeftOverId: expectStatus(leftOver, 201).body.id,
    refrigerantMoveId: expectStatus(moved, 201).body.id,
  };
  return { job, sold, ids };
}

/** The second technician works too, at a house of their own. */
async function bookElsewhere(service: TestService): Promise<void> {
  const { siteId } = await addSite(service);
  const dispatcher = service.as('dispatcher');
  const opened = await dispatcher.post('/v1/tickets', { siteId, complaint: 'It hums.' });
  const booked = await dispatcher.post('/v1/visits', {
    ticketId: expectStatus(opened, 201).body.id,
    technicianId: service.staff.second_technician.id,
    ...freeWindow(),
    feeDisclosure: { toldFeeCents: 8_900, agreedBy: 'Winifred Ashgrove' },
  });
  expectStatus(booked, 201);
}

async function atOffer(service: TestService, { job, linkId }: Offer) {
  const { ticketId } = job;
  const paperId = await paperOf(service, ticketId, 'quote');
  return { linkId, paperId, deliveryId: await askText(service, ticketId) };
}

async function money(service: TestService) {
  const issued = await billSoldJob(service);
  const paid = await move(service, issued, 'payments', cash(issued.body.balanceCents));
  const memo = await move(service, paid.invoice, 'credit-memos', creditOf(issued, 'labor', 500));
  const refund = await move(service, memo.invoice, 'refunds', cash(200));
  return {
    closedTicketId: issued.body.ticketId,
    invoiceId: issued.body.id,
    paymentId: paid.made.id,
    memoId: memo.made.id,
    refundId: refund.made.id,
  };
}

async function stock(service: TestService, { truckId }: Shop) {
  const dispatcher = service.as('dispatcher');
  const line = { partCode: 'CAP-45-5-440', quantity: '4', amountCents: 7_360 };
  const bill = await dispatcher.post('/v1/supplier-bills', billOf(truckId, line));
  const levels = { partCode: 'CAP-45-5-440', reorderAt: '1', orderUpTo: '4' };
  expectStatus(await dispatcher.post(`/v1/stock-places/${truckId}/targets`, levels), 201);
  return {
    placeId: truckId,
    partCode: levels.partCode,
    supplierBillId: expectStatus(bill, 201).body.id,
  };
}

async function ownersDesk(service: TestService) {
  const owner = service.as('owner');
  const [rule] = consumerRules;
  const added = expectStatus(await owner.post('/v1/consumer-rules', rule), 201);
  const book = expectStatus(await owner.get('/v1/price-books/in-force'), 200);
  const { flagId } = await flaggedJob(service);
  return {
    ruleId: added.body.id,
    priceBookId: book.body.id,
    draftId: (await beginDraft(service)).id,
    flagId,
    list: 'tiers',
    name: 'unproven-by-month',
    ...(await importedBills(service)),
  };
}

async function importedBills(service: TestService) {
  const owner = service.as('owner');
  const file = [
    'date,technician,complaint,found,done,parts,hours,arrived,left,fee,labor,tax,charged',
    '2025-07-03,,,,replaced capacitor,,,,,,,,700.00',
  ].join('\r\n');
  const path = '/v1/bill-imports?origin=other_company&fileName=2025.csv';
  const taken = expectStatus(await owner.send(path, 'text/csv', Buffer.from(file)), 201);
  const bills = await owner.get(`${taken.headers['location']}/bills`);
  const [bill] = expectStatus(bills, 200).body.items;
  return { importId: taken.body.id, importedBillId: bill.id };
}

async function officeDesk(service: TestService) {
  const dispatcher = service.as('dispatcher');
  const terms = { startsOn: '2026-01-01', endsOn: '2027-01-01', months: [4] };
  // Of a house where the technician has a job: what a site has agreed to is part of its history.
  const { agreementId, ...site } = await lookAfter(service, terms);
  await bookJob(service, site);
  await solveCall(service);
  const callBacks = expectStatus(await dispatcher.get('/v1/call-backs'), 200).body.items;
  const day = '2026-07-20';
  const plan = expectStatus(await dispatcher.post(`/v1/days/${day}/plans`), 201);
  const partUseId = await warrantedPart(service);
  const claim = expectStatus(await dispatcher.post(`/v1/part-uses/${partUseId}/claim`), 201);
  expectStatus(await dispatcher.post(`/v1/days/${day}/weather`, { highDegF: 101 }), 200);
  return {
    agreementId,
    callBackId: callBacks[0].id,
    day,
    dayPlanId: plan.body.id,
    claimId: claim.body.id,
  };
}

async function people(service: TestService) {
  const owner = service.as('owner');
  const { technician, second_technician } = service.staff;
  const path = `/v1/technicians/${technician.id}`;
  const days = { firstDay: '2031-01-06', lastDay: '2031-01-07' };
  const add = async (list: string, body: object): Promise<string> =>
    expectStatus(await owner.post(`${path}/${list}`, body), 201).body.id;
  const feed = await service.as('technician').post(`${path}/calendar-feeds`);
  return {
    technicianId: technician.id,
    staffId: await addStaff(service),
    absenceId: await add('absences', { ...days, why: 'sick' }),
    certificateId: await add('certificates', {
      ...{ kind: 'Gas card', number: 'G-1', issuedOn: '2026-01-01' },
    }),
    helperDaysId: await add('helpers', {
      helperId: second_technician.id,
      ...{ firstDay: '2031-02-03', lastDay: '2031-02-04' },
    }),
    feedId: expectStatus(feed, 201).body.id,
    sessionId: await startSession(service),
  };
}

/** The technician is signed in somewhere; nobody has its token. */
async function startSession({ owner, clock, staff }: TestService): Promise<string> {
  const id = randomUUID();
  await owner.query(
    `INSERT INTO staff_session (id, staff_id, token_hash, carrier, started_at, used_at, idle_seconds,
       idle_until, expires_at)
     VALUES ($1, $2, $3, 'cookie', $4::timestamptz, $4, 3600, $4::timestamptz + interval '1 hour',
       $4::timestamptz + interval '1 day')`,
    [id, staff.technician.id, randomBytes(32), clock.now()],
  );
  return id;
}

/** Somebody who may come and go without anybody of the others missing them. */
async function addStaff({ owner, clock }: TestService): Promise<string> {
  const id = randomUUID();
  await owner.query(
    `INSERT INTO staff (id, name, role, created_at) VALUES ($1, 'Ilse Farrow', 'technician', $2)`,
    [id, clock.now()],
  );
  return id;
}
