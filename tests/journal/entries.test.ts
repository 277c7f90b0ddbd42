import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { company, taxRule } from '../../seed/company.ts';
import { consumerRules } from '../../seed/consumer-rules.ts';
import { priceBook } from '../../seed/price-book.ts';
import { routes } from '../../src/app.ts';
import { journalEvents } from '../../src/journal/index.ts';
import { flaggedJob } from '../audits/judged.ts';
import { sendTo } from '../harness/change-order.ts';
import { warrantedPart } from '../harness/claims.ts';
import { codeApp } from '../harness/code-app.ts';
import { findCompressor, findOutdoorUnit, proveGroundedCompressor } from '../harness/compressor.ts';
import { giveUpOn } from '../harness/delivery.ts';
import { findTrippedBreaker, findWornContactor } from '../harness/findings.ts';
import {
  billSoldJob,
  cash,
  closeSoldJob,
  creditOf,
  move,
  sendIssue,
  sendMoney,
  sendVoid,
} from '../harness/invoice.ts';
import {
  addFinding,
  addSite,
  arriveAtJob,
  bookJob,
  draftQuote,
  findCapacitor,
  freeWindow,
  issueQuote,
  type Job,
  outdoorPlate,
  yesTo,
} from '../harness/job.ts';
import { lookAfter, sendOpen, setMonths } from '../harness/maintenance.ts';
import { sendAnswer, sendToChecks, startChecks, takeCall } from '../harness/phone-checks.ts';
import { photoOf } from '../harness/photos.ts';
import { readInvoice } from '../harness/read-invoice.ts';
import { billOf, tansy } from '../harness/shop.ts';
import { tagged } from '../harness/tagged.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';
import { noForm, offerAtLink, visit } from '../harness/visitor.ts';
import {
  capacitor,
  finishVisit,
  sellCapacitor,
  sendClose,
  sendOutcome,
  ticketAt,
} from '../harness/work.ts';

/** Everything personal that the requests below carry; none of it may stand in the journal. */
const PERSONAL = {
  name: 'Ottoline Brackenbury',
  otherName: 'Lucasta Thrale',
  phone: '555-0177',
  email: 'ottoline@brackenbury.example.com',
  street: '77 Gooseberry Steps',
  unit: 'Attic flat 9',
  city: 'Little Marlow-on-Quill',
  postalCode: '00077',
  accessNotes: 'The dog Pemberton bites.',
  complaint: 'My mother Ermintrude cannot sleep in this heat.',
  whatHelped: 'Ottoline set it to cool herself.',
  phoneNote: 'she lives alone',
  dangerNote: 'a cousin turned the stove off',
  lookNote: 'told so by the neighbour',
  rankReason: 'Her husband is on oxygen.',
  cancelReason: 'She is in hospital.',
  declineReason: 'Her son decides.',
  conditionLeft: 'Left off, as she asked.',
  consent: 'I, Ottoline, accept.',
  staffName: 'Barnaby Thistlewick',
  staffEmail: 'barnaby@thistlewick.example.com',
  staffPassword: 'seven quiet herons under the bridge',
  staffNextPassword: 'nine brass kettles in the orchard',
};

let service: TestService;
type Answer = Awaited<ReturnType<ReturnType<TestService['as']>['post']>>;
/** What each route answered, by its operation. */
const answers: Record<string, Answer> = {};

beforeAll(async () => {
  service = await createTestService({ isSetUp: false });
  await liveAJob();
}, 180_000);
afterAll(() => service.close());

/** Which entries each route writes: one for each thing that it changes. */
const expected: Record<string, string[]> = {
  setUpCompany: ['company.set_up'],
  changeCompany: ['company.changed'],
  publishPriceBook: ['price_book.published'],
  // They look, though a file is what they answer with.
  getPriceBookList: [],
  getPriceBookDraftList: [],
  beginPriceBookDraft: ['price_book_draft.begun'],
  changePriceBookDraft: ['price_book_draft.changed'],
  replacePriceBookDraftList: ['price_book_draft.changed'],
  publishPriceBookDraft: ['price_book.published', 'price_book_draft.published'],
  dropPriceBookDraft: ['price_book_draft.dropped'],
  addTaxRule: ['tax_rule.ended', 'tax_rule.added'],
  openClaim: ['claim.opened'],
  sendClaim: ['claim.moved'],
  creditClaim: ['claim.moved'],
  refuseClaim: ['claim.moved'],
  withdrawClaim: ['claim.moved'],
  addConsumerRule: ['consumer_rule.ended', 'consumer_rule.added'],
  confirmConsumerRule: ['consumer_rule.confirmed'],
  endConsumerRule: ['consumer_rule.ended'],
  addCustomer: ['customer.added'],
  changeCustomer: ['customer.changed'],
  eraseCustomer: ['customer.erased'],
  addSite: ['site.added'],
  changeSite: ['site.changed'],
  addAgreement: ['agreement.added'],
  endAgreement: ['agreement.ended'],
  setMaintenance: ['maintenance.scheduled'],
  openMaintenance: ['ticket.opened', 'maintenance.opened'],
  changeDispatchPolicy: ['dispatch_policy.changed'],
  changeTechnician: ['technician.changed'],
  addWorkWeek: ['work_week.added'],
  addAbsence: ['absence.added'],
  withdrawAbsence: ['absence.withdrawn'],
  addCertificate: ['certificate.added'],
  withdrawCertificate: ['certificate.withdrawn'],
  addHelper: ['helper.added'],
  endHelper: ['helper.ended'],
  addSystem: ['system.added'],
  addEquipment: ['equipment.added'],
  changeEquipment: ['equipment.changed'],
  takeCall: ['customer.added', 'site.added', 'ticket.opened'],
  openTicket: ['ticket.opened'],
  resolveTicketByPhone: [
    'observation.recorded',
    'observation.recorded',
    'ticket.moved',
    'call_back.promised',
  ],
  startPhoneCheck: ['phone_check.started'],
  answerPhoneCheck: ['phone_check.answered', 'phone_check.ended'],
  endPhoneCheck: ['phone_check.ended'],
  recordDangerOver: ['phone_check.danger_over'],
  makeCallBack: ['ticket.opened', 'call_back.made'],
  overridePriority: ['priority.given'],
  recordWeather: ['weather.noted'],
  cancelTicket: ['ticket.moved'],
  bookVisit: ['ticket.moved', 'visit.booked'],
  planVisit: ['visit.planned'],
  proposeDayPlan: ['day_plan.proposed'],
  useDayPlan: ['day_plan.used'],
  rebookVisit: ['visit.moved', 'visit.booked'],
  startTravel: ['visit.moved'],
  arrive: ['ticket.moved', 'visit.moved'],
  finishVisit: ['ticket.moved', 'visit.moved'],
  reportNoAccess: ['ticket.moved', 'visit.moved'],
  cancelVisit: ['ticket.moved', 'visit.moved'],
  promisePart: ['part.promised'],
  recordWorkOutcome: ['work.outcome_recorded'],
  recordPartUse: ['stock.moved', 'part.used'],
  recordPartLeftOver: ['part.left_over'],
  moveRefrigerant: ['refrigerant.moved'],
  strikeWorkOutcome: ['work.struck'],
  strikePartUse: ['work.struck', 'stock.moved'],
  strikePartLeftOver: ['work.struck'],
  strikeRefrigerantMove: ['work.struck'],
  closeTicket: ['ticket.closed', 'ticket.moved', 'invoice.opened'],
  reopenTicket: ['ticket.called_back', 'ticket.moved'],
  recordReadings: ['reading.recorded', 'reading.recorded'],
  addPhoto: ['photo.added'],
  // It looks, though a file is what it answers with.
  getPhoto: [],
  recordObservations: ['observation.recorded', 'observation.recorded', 'observation.recorded'],
  addFinding: ['finding.added'],
  overrideFinding: ['finding.overridden'],
  draftQuote: ['quote.drafted'],
  reviseQuote: ['quote.revised'],
  issueQuote: ['quote.issued'],
  withdrawQuote: ['quote.withdrawn'],
  acceptQuote: ['quote.accepted'],
  declineQuote: ['quote.declined'],
  partialYes: ['quote.revised'],
  cancelAcceptance: ['acceptance.cancelled'],
  noteDecline: ['quote.decline_noted'],
  recordFollowUp: ['quote.followed_up'],
  getQuotePaper: ['paper.rendered'],
  getPaperFile: ['paper.rendered'],
  askDelivery: ['delivery.asked'],
  retryDelivery: ['delivery.retried'],
  makeQuoteLink: ['quote_link.made'],
  revokeQuoteLink: ['quote_link.revoked'],
  inviteStaff: ['staff.added', 'sign_in_link.made'],
  useSignInLink: ['password.set'],
  signIn: ['session.started'],
  signOut: ['session.ended'],
  signOutEverywhere: ['session.ended'],
  endOwnSession: ['session.ended'],
  changePassword: ['password.set', 'session.ended'],
  renewSignInLink: ['sign_in_link.made'],
  disableStaff: ['staff.disabled'],
  enableStaff: ['staff.enabled'],
  beginSecondFactor: ['second_factor.begun'],
  confirmSecondFactor: ['second_factor.turned_on'],
  removeOwnSecondFactor: ['second_factor.ended'],
  removeSecondFactor: ['second_factor.ended', 'session.ended'],
  makeCalendarFeed: ['calendar_feed.made'],
  revokeCalendarFeed: ['calendar_feed.revoked'],
  confirmRefrigerantRules: ['quote.confirmed'],
  issueInvoice: ['invoice.issued'],
  recordPayment: ['payment.recorded'],
  voidPayment: ['payment.voided'],
  issueCreditMemo: ['credit_memo.issued'],
  recordRefund: ['refund.recorded'],
  // It looks, though a file is what it answers with.
  getBookkeepingEntries: [],
  addStockPlace: ['stock_place.added'],
  changeStockPlace: ['stock_place.changed'],
  enterSupplierBill: ['supplier_bill.recorded'],
  loadSupplierBills: ['supplier_bill.recorded'],
  importBills: ['bill_import.taken_in'],
  getBillImportPlot: [],
  getAuditReportTable: [],
  getAuditReportPaper: [],
  getAuditPlot: [],
  acceptAuditFlag: ['credit_memo.issued', 'audit_flag.accepted'],
  dismissAuditFlag: ['audit_flag.dismissed'],
  startAuditRun: ['audit_run.started'],
  usePart: ['stock.moved'],
  bringBackPart: ['stock.moved'],
  carryPart: ['stock.moved', 'stock.moved'],
  countPart: ['stock.moved'],
  addStockTarget: ['stock_target.set'],
  changeStockTarget: ['stock_target.set'],
  endStockTarget: ['stock_target.ended'],
  // They look, though a file is what they answer with.
  getReorderTable: [],
  whyQuoteInWords: [],
};

describe('no change without its entry', () => {
  it('every route that does something stands in the table', () => {
    const changesNothing = ['read', 'compute', 'stream'];
    const doing = routes
      .filter(({ kind }) => !changesNothing.includes(kind))
      .map((each) => each.operationId);
    expect(Object.keys(expected).sort()).toEqual(doing.sort());
  });

  it.each(Object.entries(expected))('%s writes %j', async (operation, events) => {
    const requestId = answers[operation]?.headers['x-request-id'];
    const written = await service.owner.query<{ event: string; subject_id: string }>(
      'SELECT event, subject_id FROM journal_entry WHERE request_id = $1 ORDER BY id',
      [requestId],
    );
    expect(written.rows.map(({ event }) => event)).toEqual(events);
    const things = new Set(written.rows.map(({ event, subject_id }) => `${event} ${subject_id}`));
    expect(things.size).toBe(events.length);
  });

  it('names who did it, in which role, and when by the clock of the request', async () => {
    const entry = await entryOf('acceptQuote');
    expect(entry).toMatchObject({
      actor_kind: 'staff',
      actor_id: service.staff.technician.id,
      actor_role: 'technician',
      at: service.clock.now(),
    });
  });

  it('keeps what was before and what is after', async () => {
    expect(JSON.parse((await entryOf('startTravel')).changes)).toEqual({
      before: { state: 'booked' },
      after: { state: 'on_the_way' },
    });
    const changed = JSON.parse((await entryOf('changeEquipment')).changes);
    expect(changed.before).toMatchObject({ partsWarrantyUntil: null });
    expect(changed.after).toMatchObject({ partsWarrantyUntil: '2030-06-30' });
  });

  it('tells what was seen before the work from what was seen after it', async () => {
    const job = await arriveAtJob(service);
    const look = { equipmentId: job.outdoorId, code: 'outdoor_fan_running', answer: 'yes' };
    const answer = await service.as('technician').post(`/v1/visits/${job.visitId}/observations`, {
      observations: [look, { ...look, phase: 'left' }],
    });
    const { items } = expectStatus(answer, 201).body;
    const written = await service.owner.query<{ subject_id: string; changes: string }>(
      'SELECT subject_id, changes FROM journal_entry WHERE request_id = $1 ORDER BY id',
      [answer.headers['x-request-id']],
    );
    expect(
      written.rows.map((each) => [each.subject_id, JSON.parse(each.changes).after.phase]),
    ).toEqual([
      [items[0].id, 'found'],
      [items[1].id, 'left'],
    ]);
  });

  it('every event but those of the outbox and of whoever comes in is written by some route', () => {
    const written = new Set(Object.values(expected).flat());
    const others = Object.keys(journalEvents).filter((event) => !written.has(event));
    // What the outbox does by itself is proven with it, in tests/delivery; how two trips become one,
    // in tests/visits; how a run over all tickets ends, in tests/audits.
    const byThemselves = ['visit.joined', 'audit_run.finished'];
    const elsewhere = (event: string) =>
      event.startsWith('delivery.') || byThemselves.includes(event);
    const byItself = others.filter((event) => !elsewhere(event));
    expect(byItself).toEqual(['sign_in.refused', 'paper_key.registered']);
  });
});

describe('what was not done is not in the journal', () => {
  it('a refused batch leaves no entry for the part that was fine', async () => {
    const before = await countEntries();
    const place = await addSite(service);
    const job = await arriveAtJob(service, place);
    const elsewhere = await addSite(service);
    const made = await countEntries();
    expect(made).toBeGreaterThan(before);
    const look = { code: 'outdoor_fan_running', answer: 'yes' };
    const refused = await service.as('technician').post(`/v1/visits/${job.visitId}/observations`, {
      observations: [
        { ...look, equipmentId: job.outdoorId },
        { ...look, equipmentId: elsewhere.outdoorId },
      ],
    });
    expectStatus(refused, 422);
    expect(await countEntries()).toBe(made);
  });

  it('a window that was taken leaves neither the moved ticket nor an entry', async () => {
    const job = await bookJob(service);
    const visit = await service.as('dispatcher').get(`/v1/visits/${job.visitId}`);
    const { siteId } = await addSite(service);
    const dispatcher = service.as('dispatcher');
    const opened = await dispatcher.post('/v1/tickets', { siteId, complaint: 'Warm air.' });
    const before = await countEntries();
    const refused = await dispatcher.post('/v1/visits', {
      ticketId: expectStatus(opened, 201).body.id,
      technicianId: service.staff.technician.id,
      windowStart: visit.body.windowStart,
      windowEnd: visit.body.windowEnd,
      feeDisclosure: { toldFeeCents: 8_900, agreedBy: 'Somebody' },
    });
    expectStatus(refused, 409);
    expect(await countEntries()).toBe(before);
  });

  it('the same request sent again, and looking, leave no entry', async () => {
    const dispatcher = service.as('dispatcher');
    const body = { name: 'Peregrine Holt', phone: '555-0155' };
    const first = await dispatcher.post('/v1/customers', body, { key: 'once-and-for-all' });
    const before = await countEntries();
    const again = await dispatcher.post('/v1/customers', body, { key: 'once-and-for-all' });
    expect(again.body).toEqual(expectStatus(first, 201).body);
    for (const path of ['/v1/tickets', '/v1/visits', '/v1/quotes', '/v1/customers']) {
      expectStatus(await dispatcher.get(path), 200);
    }
    expect(await countEntries()).toBe(before);
  });
});

describe('the journal says nothing about a person', () => {
  it.each(Object.entries(PERSONAL))('no entry holds the %s', async (_what, value) => {
    const words = [value, JSON.stringify(value).slice(1, -1), value.replace(/\D/g, '')];
    for (const word of words.filter(({ length }) => length >= 7)) {
      const found = await service.owner.query(
        'SELECT event, changes FROM journal_entry e WHERE strpos(lower(e::text), lower($1)) > 0',
        [word],
      );
      expect(found.rows).toEqual([]);
    }
  });

  it('two people of one name cannot be told to be alike', async () => {
    const dispatcher = service.as('dispatcher');
    const body = { name: PERSONAL.name, phone: PERSONAL.phone };
    const one = await dispatcher.post('/v1/customers', body);
    const other = await dispatcher.post('/v1/customers', body);
    const [hashOne, hashOther] = [await nameHash(one), await nameHash(other)];
    expect(hashOne).toMatch(/^[0-9a-f]{64}$/);
    expect(hashOne).not.toBe(hashOther);
  });

  it('of one person it can be told whether a field changed', async () => {
    const { personalBefore, personalAfter } = JSON.parse((await entryOf('changeCustomer')).changes);
    expect(personalAfter.phone).toBe(personalBefore.phone);
    expect(personalAfter.name).not.toBe(personalBefore.name);
  });
});

async function liveAJob(): Promise<void> {
  const owner = service.as('owner');
  const dispatcher = service.as('dispatcher');
  const technician = service.as('technician');
  const keep: Keep = (operation, answer, status) => {
    answers[operation] = expectStatus(answer, status);
    return answer;
  };
  const ifMatch = (answer: Answer) => ({ ifMatch: answer.headers['etag'] ?? '' });

  const setUp = keep('setUpCompany', await owner.post('/v1/company', company), 201);
  const phone = { phone: '555-0190' };
  keep('changeCompany', await owner.patch('/v1/company', phone, ifMatch(setUp)), 200);
  expectStatus(await owner.post('/v1/tax-rules', taxRule), 201);
  keep('publishPriceBook', await owner.post('/v1/price-books', priceBook), 201);
  keep(
    'addTaxRule',
    await owner.post('/v1/tax-rules', { ...taxRule, rate: '0.085', effectiveFrom: '2030-01-01' }),
    201,
  );

  await liveADraft(keep);
  await liveAConsumerRule(keep);

  const customer = keep(
    'addCustomer',
    await dispatcher.post('/v1/customers', {
      name: PERSONAL.otherName,
      phone: PERSONAL.phone,
      email: PERSONAL.email,
    }),
    201,
  );
  const leaving = await dispatcher.post('/v1/customers', {
    name: 'Perpetua Longstaff',
    phone: '555-0178',
  });
  const erasePath = `/v1/customers/${expectStatus(leaving, 201).body.id}/erase`;
  const why = { reason: 'Asked for it by letter.' };
  keep('eraseCustomer', await owner.post(erasePath, why, ifMatch(leaving)), 200);
  keep(
    'changeCustomer',
    await dispatcher.patch(
      `/v1/customers/${customer.body.id}`,
      { name: PERSONAL.name },
      ifMatch(customer),
    ),
    200,
  );
  const site = keep(
    'addSite',
    await dispatcher.post('/v1/sites', {
      street: PERSONAL.street,
      unit: PERSONAL.unit,
      city: PERSONAL.city,
      region: 'QX',
      postalCode: PERSONAL.postalCode,
      accessNotes: PERSONAL.accessNotes,
      occupantId: customer.body.id,
    }),
    201,
  );
  keep(
    'changeSite',
    await dispatcher.patch(
      `/v1/sites/${site.body.id}`,
      { accessNotes: PERSONAL.accessNotes, approverLimitCents: 40_000 },
      ifMatch(site),
    ),
    200,
  );
  await liveAnAgreement(keep, site.body.id);
  await liveMaintenance(keep);
  await liveADepot(keep);
  const system = keep(
    'addSystem',
    await dispatcher.post(`/v1/sites/${site.body.id}/systems`, { name: 'Main floor' }),
    201,
  );
  const outdoor = keep(
    'addEquipment',
    await dispatcher.post(`/v1/systems/${system.body.id}/equipment`, {
      kind: 'condensing_unit',
      nameplate: outdoorPlate,
    }),
    201,
  );
  keep(
    'changeEquipment',
    await dispatcher.patch(
      `/v1/equipment/${outdoor.body.id}`,
      { partsWarrantyUntil: '2030-06-30' },
      ifMatch(outdoor),
    ),
    200,
  );

  const openTicket = () =>
    dispatcher.post('/v1/tickets', {
      siteId: site.body.id,
      complaint: PERSONAL.complaint,
      symptoms: ['no_cooling'],
    });
  const book = async (ticket: Answer) =>
    expectStatus(
      await dispatcher.post('/v1/visits', {
        ticketId: ticket.body.id,
        technicianId: service.staff.technician.id,
        ...freeWindow(),
        feeDisclosure: { toldFeeCents: 8_900, agreedBy: PERSONAL.name },
      }),
      201,
    );
  const move = (visit: Answer, verb: string, body: object = {}) =>
    dispatcher.post(`/v1/visits/${visit.body.id}/${verb}`, body, ifMatch(visit));

  keep(
    'takeCall',
    await dispatcher.post('/v1/calls', {
      customer: { new: { name: PERSONAL.otherName, phone: PERSONAL.phone } },
      site: {
        new: {
          ...{ street: PERSONAL.street, unit: PERSONAL.unit, city: PERSONAL.city, region: 'QX' },
          ...{ postalCode: PERSONAL.postalCode, accessNotes: PERSONAL.accessNotes },
        },
      },
      complaint: PERSONAL.complaint,
      anyway: true,
    }),
    201,
  );
  const solved = keep('openTicket', await openTicket(), 201);
  keep(
    'resolveTicketByPhone',
    await dispatcher.post(
      `/v1/tickets/${solved.body.id}/resolve-by-phone`,
      {
        answers: [
          { code: 'thermostat_calling_cooling', answer: 'no', note: PERSONAL.phoneNote },
          { code: 'indoor_fan_running', answer: 'yes' },
        ],
        whatHelped: PERSONAL.whatHelped,
      },
      ifMatch(solved),
    ),
    200,
  );
  await liveACall(keep, solved.body.id);
  const dropped = await openTicket();
  const ranked = { rank: 1, reason: PERSONAL.rankReason };
  const ticketToRank = `/v1/tickets/${dropped.body.id}/priority`;
  keep('overridePriority', await dispatcher.post(ticketToRank, ranked), 200);
  const hot = { highDegF: 101 };
  keep('recordWeather', await dispatcher.post('/v1/days/2026-07-15/weather', hot), 200);
  keep(
    'cancelTicket',
    await dispatcher.post(
      `/v1/tickets/${dropped.body.id}/cancel`,
      { reason: PERSONAL.cancelReason },
      ifMatch(dropped),
    ),
    200,
  );
  const calledOff = await book(await openTicket());
  const reason = { reason: PERSONAL.cancelReason };
  const days = `/v1/days/${calledOff.body.windowStart.slice(0, 10)}/plans`;
  const proposed = keep('proposeDayPlan', await dispatcher.post(days), 201);
  const use = await dispatcher.post(`/v1/day-plans/${proposed.body.id}/use`);
  keep('useDayPlan', use, 200);
  const planned = { start: calledOff.body.windowStart, minutes: 90 };
  const calledOffAt = `/v1/visits/${calledOff.body.id}`;
  const plan = await dispatcher.patch(`${calledOffAt}/plan`, { planned }, ifMatch(calledOff));
  const replanned = keep('planVisit', plan, 200);
  const toAnother = { technicianId: service.staff.second_technician.id, askedBy: 'company' };
  const moved = await move(replanned, 'rebook', { ...toAnother, ...reason });
  keep('cancelVisit', await move(keep('rebookVisit', moved, 201), 'cancel', reason), 200);
  const nobodyHome = await move(await book(await openTicket()), 'start-travel');
  keep('reportNoAccess', await move(nobodyHome, 'report-no-access', reason), 200);

  const booked = keep('bookVisit', await book(await openTicket()), 201);
  const travelling = keep('startTravel', await move(booked, 'start-travel'), 200);
  const arrived = keep('arrive', await move(travelling, 'arrive'), 200);
  const visitId = booked.body.id;
  const herm = {
    equipmentId: outdoor.body.id,
    point: 'capacitor_herm',
    method: 'clamp_meter',
    instrument: 'Clamp 1',
  };
  keep(
    'recordReadings',
    await technician.post(`/v1/visits/${visitId}/readings`, {
      readings: [
        { ...herm, quantity: 'current', value: 4.1, unit: 'A' },
        { ...herm, quantity: 'voltage', value: 352, unit: 'V' },
      ],
    }),
    201,
  );
  const photo = keep(
    'addPhoto',
    await technician.send(`/v1/visits/${visitId}/photos`, 'image/jpeg', photoOf('a silent fan')),
    201,
  );
  keep('getPhoto', await technician.get(`/v1/photos/${photo.body.sha256}`), 200);
  keep(
    'recordObservations',
    await technician.post(`/v1/visits/${visitId}/observations`, {
      observations: [
        {
          equipmentId: outdoor.body.id,
          code: 'indoor_fan_running',
          answer: 'yes',
          note: PERSONAL.lookNote,
        },
        { equipmentId: outdoor.body.id, code: 'thermostat_calling_cooling', answer: 'yes' },
        { equipmentId: outdoor.body.id, code: 'compressor_running', answer: 'no' },
      ],
    }),
    201,
  );
  const finding = keep(
    'addFinding',
    await technician.post(`/v1/visits/${visitId}/findings`, {
      equipmentId: outdoor.body.id,
      faultCode: 'run_capacitor_herm',
      taskCode: 'replace_dual_run_capacitor',
      parts: [{ partCode: 'CAP-45-5-440', quantity: 1 }],
    }),
    201,
  );
  const job = { visitId, outdoorId: outdoor.body.id } as Job;
  const unproven = await addFinding(service, job, {
    equipmentId: job.outdoorId,
    faultCode: 'tripped_breaker',
    taskCode: 'trace_breaker_trip',
  });
  keep(
    'overrideFinding',
    await owner.post(`/v1/findings/${unproven}/override`, { reason: 'It trips at noon.' }),
    201,
  );

  const options = [{ title: 'Repair', findingIds: [finding.body.id] }];
  const drafted = keep(
    'draftQuote',
    await technician.post('/v1/quotes', { visitId, options }),
    201,
  );
  const answer = (quote: Answer, verb: string, body: object = {}) =>
    technician.post(`/v1/quotes/${quote.body.id}/${verb}`, body, ifMatch(quote));
  const revised = keep('reviseQuote', await answer(drafted, 'revise', { options }), 200);
  const issued = keep('issueQuote', await answer(revised, 'issue'), 200);
  keep('getQuotePaper', await technician.get(`/v1/quotes/${drafted.body.id}/paper`), 200);
  const papers = await technician.get(`/v1/papers?ticketId=${drafted.body.ticketId}`);
  const [paper] = expectStatus(papers, 200).body.items;
  keep('getPaperFile', await technician.get(`/v1/papers/${paper.id}/file?language=es`), 200);
  const asked = keep(
    'askDelivery',
    await technician.post(`/v1/papers/${paper.id}/deliveries`, { to: 'approver', channel: 'text' }),
    201,
  );
  await giveUpOn(service, asked.body.id);
  keep(
    'retryDelivery',
    await owner.post(
      `/v1/deliveries/${asked.body.id}/retry`,
      {},
      ifMatch(await owner.get(`/v1/deliveries/${asked.body.id}`)),
    ),
    200,
  );
  const links = `/v1/quotes/${issued.body.id}/links`;
  const link = await technician.post(links, { holder: 'approver' });
  const revoke = `/v1/quote-links/${keep('makeQuoteLink', link, 201).body.id}/revoke`;
  keep('revokeQuoteLink', await service.as('dispatcher').post(revoke), 200);
  const feeds = `/v1/technicians/${service.staff.technician.id}/calendar-feeds`;
  const feed = keep('makeCalendarFeed', await technician.post(feeds), 201);
  const end = `/v1/calendar-feeds/${feed.body.id}/revoke`;
  keep('revokeCalendarFeed', await technician.post(end), 200);
  keep('whyQuoteInWords', await technician.get(`/v1/quotes/${drafted.body.id}/why-in-words`), 200);
  const breaker = await findTrippedBreaker(service, job);
  const no = await issueQuote(service, await draftQuote(service, job, [breaker]));
  keep(
    'declineQuote',
    await technician.post(
      `/v1/quotes/${no.body.id}/decline`,
      {
        declinedByName: PERSONAL.otherName,
        reason: PERSONAL.declineReason,
        conditionLeft: PERSONAL.conditionLeft,
      },
      { ifMatch: no.tag },
    ),
    200,
  );
  const mistaken = await draftQuote(service, job, []);
  keep(
    'withdrawQuote',
    await technician.post(`/v1/quotes/${mistaken.body.id}/withdraw`, {}, { ifMatch: mistaken.tag }),
    200,
  );
  keep(
    'acceptQuote',
    await answer(issued, 'accept', {
      ...yesTo({ body: issued.body, tag: '' }),
      acceptedByName: PERSONAL.name,
      consentText: PERSONAL.consent,
    }),
    200,
  );
  await liveAStore(keep, visitId);
  await offerANewMachine(keep);
  await liveAChangeOfMind(keep);
  await liveANoFromAfar(keep);
  await liveTheWork(keep);
  await liveTheMoney(keep);
  await liveTheAudit(keep);
  await liveTheClaims(keep);
  await comeAndGo(keep);
  keep('finishVisit', await move(arrived, 'finish', { ticketIs: 'work_complete' }), 200);
}

/** Somebody is invited, signs in and out, changes the password, leaves and comes back. */
async function comeAndGo(keep: Keep): Promise<void> {
  const owner = service.as('owner');
  const nobody = service.as('nobody');
  const email = PERSONAL.staffEmail;
  const person = { name: PERSONAL.staffName, role: 'technician', email };
  const { staffId, token } = keep('inviteStaff', await owner.post('/v1/staff', person), 201).body;
  const password = PERSONAL.staffPassword;
  const used = await nobody.post('/v1/sign-in-links/use', { token, password });
  keep('useSignInLink', used, 200);
  const signIn = () => nobody.post('/v1/sign-in', { email, password });
  const session = async (answer: Answer) => ({
    headers: { authorization: `Bearer ${expectStatus(answer, 200).body.token}` },
  });
  const first = await session(keep('signIn', await signIn(), 200));
  keep('signOut', await nobody.post('/v1/sign-out', {}, first), 200);
  const second = await session(await signIn());
  keep('signOutEverywhere', await nobody.post('/v1/sign-out-everywhere', {}, second), 200);
  const third = await session(await signIn());
  const kept = await nobody.get('/v1/me/sessions', third.headers);
  const [{ id }] = expectStatus(kept, 200).body.items;
  keep('endOwnSession', await nobody.post(`/v1/me/sessions/${id}/end`, { password }, third), 200);
  const fourth = await session(await signIn());
  const change = { password, newPassword: PERSONAL.staffNextPassword };
  keep('changePassword', await nobody.post('/v1/change-password', change, fourth), 200);
  keep('renewSignInLink', await owner.post(`/v1/staff/${staffId}/sign-in-link`), 201);
  keep('disableStaff', await owner.post(`/v1/staff/${staffId}/disable`), 200);
  keep('enableStaff', await owner.post(`/v1/staff/${staffId}/enable`), 200);
  await turnFactorsOnAndOff(keep);
}

/** A dispatcher turns the second factor on and off, and on again; then the owner takes it away. */
async function turnFactorsOnAndOff(keep: Keep): Promise<void> {
  const owner = service.as('owner');
  const nobody = service.as('nobody');
  const password = PERSONAL.staffPassword;
  const email = `second-${PERSONAL.staffEmail}`;
  const person = { name: PERSONAL.staffName, role: 'dispatcher', email };
  const { staffId, token } = expectStatus(await owner.post('/v1/staff', person), 201).body;
  expectStatus(await nobody.post('/v1/sign-in-links/use', { token, password }), 200);
  const signedIn = expectStatus(await nobody.post('/v1/sign-in', { email, password }), 200);
  const session = { headers: { authorization: `Bearer ${signedIn.body.token}` } };
  const post = (step: string, body: object) =>
    nobody.post(`/v1/second-factor/${step}`, body, session);
  const turnOn = async () => {
    const begun = keep('beginSecondFactor', await post('begin', { password }), 200);
    const code = codeApp(begun.body.uri)(service.clock.now());
    return keep('confirmSecondFactor', await post('confirm', { code }), 200);
  };
  const [code] = (await turnOn()).body.recoveryCodes;
  keep('removeOwnSecondFactor', await post('remove', { password, code }), 200);
  await turnOn();
  const path = `/v1/staff/${staffId}/remove-second-factor`;
  keep('removeSecondFactor', await owner.post(path), 200);
}

type Keep = (operation: string, answer: Answer, status: number) => Answer;

/** Work from the yes to the closing, a callback, and a part that has to come. */
async function liveTheWork(keep: Keep): Promise<void> {
  const technician = service.as('technician');
  const dispatcher = service.as('dispatcher');
  const job = await arriveAtJob(service);
  const { quoteId, findingId } = await sellCapacitor(service, job);
  const visit = `/v1/visits/${job.visitId}`;
  const truck = { name: 'Truck 1', kind: 'truck', technicianId: service.staff.technician.id };
  const place = expectStatus(await dispatcher.post('/v1/stock-places', truck), 201);
  const stockPlaceId = place.body.id;
  const used = { quoteId, findingId, ...capacitor, stockPlaceId };
  const wrong = keep('recordPartUse', await technician.post(`${visit}/part-uses`, used), 201);
  const struckWhy = { reason: PERSONAL.declineReason };
  const strikeUse = `/v1/part-uses/${wrong.body.id}/strike`;
  keep('strikePartUse', await technician.post(strikeUse, struckWhy), 200);
  expectStatus(await technician.post(`${visit}/part-uses`, used), 201);
  const other = await arriveAtJob(service);
  const { oldPart: _, ...notUsed } = { ...(await sellCapacitor(service, other)), ...capacitor };
  const { quoteId: otherQuote, findingId: otherFinding, partCode, quantity } = notUsed;
  const why = { reason: PERSONAL.declineReason };
  const leftOver = { quoteId: otherQuote, findingId: otherFinding, partCode, quantity, ...why };
  const path0 = `/v1/visits/${other.visitId}/parts-left-over`;
  const over = keep('recordPartLeftOver', await technician.post(path0, leftOver), 201);
  const strikeOver = `/v1/parts-left-over/${over.body.id}/strike`;
  keep('strikePartLeftOver', await technician.post(strikeOver, struckWhy), 200);
  const move = {
    equipmentId: job.outdoorId,
    refrigerant: 'R-410A',
    direction: 'recovered',
    cylinder: 'C-7',
    beforeOz: '10',
    afterOz: '26.5',
  };
  const weighed = await technician.post(`${visit}/refrigerant-moves`, move);
  const moved = keep('moveRefrigerant', weighed, 201);
  const strikeMove = `/v1/refrigerant-moves/${moved.body.id}/strike`;
  keep('strikeRefrigerantMove', await technician.post(strikeMove, struckWhy), 200);
  const reason = PERSONAL.declineReason;
  const notDone = { quoteId: otherQuote, findingId: otherFinding, outcome: 'not_done', reason };
  const said = await technician.post(`/v1/visits/${other.visitId}/work-outcomes`, notDone);
  const outcome = keep('recordWorkOutcome', said, 201);
  const strikeOutcome = `/v1/work-outcomes/${outcome.body.id}/strike`;
  keep('strikeWorkOutcome', await technician.post(strikeOutcome, struckWhy), 200);
  expectStatus(await sendOutcome(service, job.visitId, { quoteId, findingId }), 201);
  await finishVisit(service, job.visitId);
  const how = { conditionLeft: PERSONAL.conditionLeft, noReadingsWhy: PERSONAL.lookNote };
  keep('closeTicket', await sendClose(service, job.ticketId, how), 200);
  const ticket = `/v1/tickets/${job.ticketId}`;
  const again = { complaint: PERSONAL.complaint };
  const { tag } = await ticketAt(service, job.ticketId);
  const reopened = await dispatcher.post(`${ticket}/reopen`, again, { ifMatch: tag });
  keep('reopenTicket', reopened, 200);

  const waiting = await arriveAtJob(service);
  await finishVisit(service, waiting.visitId, 'waiting_for_part');
  const promise = { what: PERSONAL.whatHelped, promisedOn: '2027-03-09', toldTo: PERSONAL.name };
  const ifMatch = (await ticketAt(service, waiting.ticketId)).tag;
  const path = `/v1/tickets/${waiting.ticketId}/promise-part`;
  keep('promisePart', await dispatcher.post(path, promise, { ifMatch }), 200);
}

/** Phone checks that stop in danger and are begun again, and the call back of a solved ticket. */
async function liveACall(keep: Keep, solvedId: string): Promise<void> {
  const { ticketId } = await takeCall(service);
  keep('startPhoneCheck', await startChecks(service, ticketId), 201);
  const note = PERSONAL.phoneNote;
  const danger = await sendAnswer(service, ticketId, ['gas_smell', 'yes'], { note });
  keep('answerPhoneCheck', danger, 200);
  const over = { note: PERSONAL.dangerNote };
  keep('recordDangerOver', await sendToChecks(service, ticketId, 'danger-over', over), 200);
  await startChecks(service, ticketId);
  const end = { outcome: 'broken_off', note: PERSONAL.phoneNote };
  keep('endPhoneCheck', await sendToChecks(service, ticketId, 'end', end), 200);
  const dispatcher = service.as('dispatcher');
  const { items } = expectStatus(await dispatcher.get('/v1/call-backs'), 200).body;
  const due = items.find((each: { ticketId: string }) => each.ticketId === solvedId);
  const made = await dispatcher.post(
    `/v1/call-backs/${due.id}/made`,
    { outcome: 'back_again', note },
    { ifMatch: `"v${due.version}"` },
  );
  keep('makeCallBack', made, 200);
}

/** A no at the link, and what our staff say of it afterwards. */
async function liveANoFromAfar(keep: Keep): Promise<void> {
  const offer = await offerAtLink(service);
  const { id } = offer.quote.body;
  const visitor = await visit(service, offer);
  const no = { ...noForm(offer), name: PERSONAL.name };
  expectStatus(await visitor.post(`${offer.page}/decline`, no), 303);
  const note = { conditionLeft: PERSONAL.conditionLeft, dangerWarned: PERSONAL.lookNote };
  const path = `/v1/quotes/${id}/decline-notes`;
  keep('noteDecline', await service.as('technician').post(path, note), 201);
}

/** Some of what was offered, asked about, accepted and taken back. */
async function liveAChangeOfMind(keep: Keep): Promise<void> {
  const job = await arriveAtJob(service);
  const findingIds = [await findCapacitor(service, job), await findWornContactor(service, job)];
  const both = await issueQuote(service, await draftQuote(service, job, findingIds));
  const part = keep(
    'partialYes',
    await sendTo(service, both, 'partial-yes', {
      optionId: both.body.options[0].id,
      findingIds: findingIds.slice(0, 1),
    }),
    200,
  );
  const issued = await issueQuote(service, tagged(part));
  const asked = { revision: 2, step: 1, way: 'call', note: PERSONAL.phoneNote };
  const path = `/v1/quotes/${issued.body.id}/follow-ups`;
  keep('recordFollowUp', await service.as('dispatcher').post(path, asked), 201);
  const accepted = tagged(await sendTo(service, issued, 'accept', yesTo(issued)));
  const notice = { cancelledByName: PERSONAL.name, noticeText: PERSONAL.cancelReason };
  keep('cancelAcceptance', await sendTo(service, accepted, 'cancel-acceptance', notice), 200);
}

/** A part under its maker's warranty, claimed; once it is credited, once refused, once withdrawn. */
async function liveTheClaims(keep: Keep): Promise<void> {
  const dispatcher = service.as('dispatcher');
  const step = (claim: Answer, verb: string, body: object) =>
    dispatcher.post(`/v1/claims/${claim.body.id}/${verb}`, body, {
      ifMatch: claim.headers['etag'] ?? '',
    });
  const happenedOn = '2026-07-14';
  const sent = { registration: 'REG-1', oldPart: 'returned', happenedOn };
  const open = async () =>
    expectStatus(await dispatcher.post(`/v1/part-uses/${await warrantedPart(service)}/claim`), 201);
  const claim = keep('openClaim', await open(), 201);
  const waiting = keep('sendClaim', await step(claim, 'send', sent), 200);
  const credit = { amountCents: 2_175, reference: 'CM-1', happenedOn };
  keep('creditClaim', await step(waiting, 'credit', credit), 200);
  const other = await step(await open(), 'send', sent);
  keep('refuseClaim', await step(other, 'refuse', { reason: 'Too late.', happenedOn }), 200);
  const mistake = { reason: 'Of another house.', happenedOn };
  keep('withdrawClaim', await step(await open(), 'withdraw', mistake), 200);
}

/** A bill that is paid, credited, given back in part and asked for again. */
async function liveTheMoney(keep: Keep): Promise<void> {
  const { draft } = await closeSoldJob(service);
  const issued = keep('issueInvoice', await sendIssue(service, draft), 200);
  const bill = { body: issued.body, tag: issued.headers['etag'] ?? '' };
  const now = () => readInvoice(service, bill.body.id);
  const money = { ...cash(bill.body.balanceCents), paidByName: PERSONAL.name };
  const paid = keep('recordPayment', await sendMoney(service, bill, 'payments', money), 201);
  const memo = { ...creditOf(bill, 'labor', 500), reason: PERSONAL.declineReason };
  keep('issueCreditMemo', await sendMoney(service, await now(), 'credit-memos', memo), 201);
  keep('recordRefund', await sendMoney(service, await now(), 'refunds', cash(200)), 201);
  expectProblem(await sendVoid(service, await now(), paid.body.id), 'not-allowed-now');
  const other = await move(service, await billSoldJob(service), 'payments', cash(100));
  keep('voidPayment', await sendVoid(service, other.invoice, other.made.id), 200);
  const path = '/v1/bookkeeping/entries.csv?from=2026-07-01&to=2026-07-31';
  keep('getBookkeepingEntries', await service.as('owner').get(path), 200);
}

/** A flag that is put right, another that is left, and every ticket judged again. */
async function liveTheAudit(keep: Keep): Promise<void> {
  const owner = service.as('owner');
  const { flagId, tag } = await flaggedJob(service);
  const accepted = await owner.post(`/v1/audit/flags/${flagId}/accept`, {}, { ifMatch: tag });
  keep('acceptAuditFlag', accepted, 200);
  const other = await flaggedJob(service);
  const path = `/v1/audit/flags/${other.flagId}/dismiss`;
  const reason = { reason: PERSONAL.declineReason };
  keep('dismissAuditFlag', await owner.post(path, reason, { ifMatch: other.tag }), 200);
  keep('startAuditRun', await owner.post('/v1/audit/runs'), 201);
  const period = '?from=2026-01-01&to=2027-12-31';
  keep('getAuditReportTable', await owner.get(`/v1/audit/report/csv${period}`), 200);
  keep('getAuditReportPaper', await owner.get(`/v1/audit/report/pdf${period}`), 200);
  keep('getAuditPlot', await owner.get(`/v1/audit/plots/unproven-by-month${period}`), 200);
}

/** It is agreed and taken back on its first day, so that the quotes of the job are under none. */
async function liveAnAgreement(keep: Keep, siteId: string): Promise<void> {
  const dispatcher = service.as('dispatcher');
  const startsOn = '2026-01-01';
  const added = await dispatcher.post(`/v1/sites/${siteId}/agreements`, {
    planCode: 'two_visits',
    startsOn,
    endsOn: '2027-01-01',
    agreedByName: PERSONAL.name,
  });
  keep('addAgreement', added, 201);
  const ifMatch = added.headers['etag'] ?? '';
  const end = `/v1/agreements/${added.body.id}/end`;
  keep('endAgreement', await dispatcher.post(end, { endsOn: startsOn }, { ifMatch }), 200);
}

/** A month in which a machine is looked after. */
async function liveMaintenance(keep: Keep): Promise<void> {
  const terms = { startsOn: '2026-01-01', endsOn: '2027-01-01', months: [4] };
  const { agreementId } = await lookAfter(service, terms);
  keep('setMaintenance', await setMonths(service, agreementId, [6]), 200);
  keep('openMaintenance', await sendOpen(service, agreementId, '2026-06'), 201);
}

/** Who drives out from where and when, and who goes along. */
async function liveADepot(keep: Keep): Promise<void> {
  const owner = service.as('owner');
  const anyVersion = { ifMatch: '*' };
  const policy = await owner.patch('/v1/dispatch-policy', { mph: 30 }, anyVersion);
  keep('changeDispatchPolicy', policy, 200);
  const path = `/v1/technicians/${service.staff.second_technician.id}`;
  const base = { latitudeDeg: 41.2, longitudeDeg: -95.9 };
  keep('changeTechnician', await owner.patch(path, { base }, anyVersion), 200);
  const hours = [{ weekday: 1, startMinute: 480, endMinute: 960 }];
  const week = { validFrom: '2031-01-01', hours };
  keep('addWorkWeek', await owner.post(`${path}/work-weeks`, week), 201);
  const days = { firstDay: '2031-01-06', lastDay: '2031-01-07' };
  const away = keep(
    'addAbsence',
    await owner.post(`${path}/absences`, { ...days, why: 'sick' }),
    201,
  );
  const absence = `${path}/absences/${away.body.id}`;
  keep('withdrawAbsence', await owner.post(`${absence}/withdraw`, {}), 200);
  const card = { kind: 'Gas card', number: 'G-1', issuedOn: '2026-01-01' };
  const held = keep('addCertificate', await owner.post(`${path}/certificates`, card), 201);
  const certificate = `${path}/certificates/${held.body.id}`;
  keep('withdrawCertificate', await owner.post(`${certificate}/withdraw`, {}), 200);
  const helperId = service.staff.technician.id;
  const along = await owner.post(`${path}/helpers`, { helperId, ...days });
  keep('addHelper', along, 201);
  keep('endHelper', await owner.post(`${path}/helpers/${along.body.id}/end`, {}), 200);
}

/** What a part goes through, from the supplier's bill to the visit. */
async function liveAStore(keep: Keep, visitId: string): Promise<void> {
  const dispatcher = service.as('dispatcher');
  const place = await dispatcher.post('/v1/stock-places', { name: 'Loft', kind: 'shelves' });
  const { id: placeId } = keep('addStockPlace', place, 201).body;
  const at = `/v1/stock-places/${placeId}`;
  const ifMatch = (answer: Answer) => ({ ifMatch: answer.headers['etag'] ?? '' });
  keep('changeStockPlace', await dispatcher.patch(at, { name: 'Attic' }, ifMatch(place)), 200);
  const other = await dispatcher.post('/v1/stock-places', { name: 'Cellar', kind: 'shelves' });
  const partCode = 'CAP-45-5-440';

  const bill = billOf(placeId, { partCode, quantity: '4', amountCents: 7_360 });
  keep('enterSupplierBill', await dispatcher.post('/v1/supplier-bills', bill), 201);
  const file = [
    'supplier,number,billed_on,place,part_code,description,quantity,amount,other_charges,total',
    `${tansy},F-1,2026-07-02,Attic,FLOAT-1,,2,23.10,,23.10`,
  ].join('\r\n');
  const loaded = await dispatcher.send('/v1/supplier-bills/load', 'text/csv', Buffer.from(file));
  keep('loadSupplierBills', loaded, 201);
  await takeInBills(keep);

  const used = { visitId, partCode, quantity: '1' };
  keep('usePart', await dispatcher.post(`${at}/use`, used), 201);
  keep('bringBackPart', await dispatcher.post(`${at}/bring-back`, used), 201);
  const carried = { toPlaceId: other.body.id, partCode, quantity: '1' };
  keep('carryPart', await dispatcher.post(`${at}/carry`, carried), 201);
  const counted = { partCode, counted: '2', reason: 'Weekly count.' };
  keep('countPart', await dispatcher.post(`${at}/count`, counted), 201);

  const levels = { reorderAt: '1', orderUpTo: '4' };
  const target = await dispatcher.post(`${at}/targets`, { partCode, ...levels });
  keep('addStockTarget', target, 201);
  const path = `${at}/targets/${partCode}`;
  const changed = await dispatcher.patch(path, { ...levels, orderUpTo: '6' }, ifMatch(target));
  keep('changeStockTarget', changed, 200);
  keep('endStockTarget', await dispatcher.post(`${path}/end`, {}, ifMatch(changed)), 200);
  keep('getReorderTable', await dispatcher.get('/v1/reorder-list/csv'), 200);
}

/** Last year's bills of somebody else. */
async function takeInBills(keep: Keep): Promise<void> {
  const file = [
    'date,technician,complaint,found,done,parts,hours,arrived,left,fee,labor,tax,charged',
    '2025-07-03,,,,replaced capacitor,,,,,,,,700.00',
  ].join('\r\n');
  const path = '/v1/bill-imports?origin=other_company&fileName=2025.csv';
  const taken = await service.as('owner').send(path, 'text/csv', Buffer.from(file));
  keep('importBills', taken, 201);
  const plot = `${taken.headers['location']}/plot`;
  keep('getBillImportPlot', await service.as('owner').get(plot), 200);
}

/** A new machine beside the repair, which the owner confirms before it is offered. */
async function offerANewMachine(keep: Keep): Promise<void> {
  const job = await arriveAtJob(service);
  await proveGroundedCompressor(service, job);
  const options = [
    { title: 'Repair', findingIds: [await findCompressor(service, job)] },
    { title: 'New machine', findingIds: [await findOutdoorUnit(service, job)] },
  ];
  const drafted = await service.as('technician').post('/v1/quotes', {
    visitId: job.visitId,
    options,
  });
  const path = `/v1/quotes/${expectStatus(drafted, 201).body.id}/confirm-refrigerant-rules`;
  const ifMatch = drafted.headers['etag'] ?? '';
  const owner = service.as('owner');
  const asked = await owner.post(path, { statement: 'All fine.' }, { ifMatch });
  const { statement } = asked.body;
  keep('confirmRefrigerantRules', await owner.post(path, { statement }, { ifMatch }), 200);
}

/** A consumer rule, its next wording, its confirmation and its end. */
async function liveAConsumerRule(keep: Keep): Promise<void> {
  const owner = service.as('owner');
  const [rule] = consumerRules;
  expectStatus(await owner.post('/v1/consumer-rules', rule), 201);
  const next = await owner.post('/v1/consumer-rules', { ...rule, effectiveFrom: '2030-01-01' });
  keep('addConsumerRule', next, 201);
  const path = `/v1/consumer-rules/${next.body.id}`;
  keep('confirmConsumerRule', await owner.post(`${path}/confirm`, { confirmedBy: 'Counsel' }), 200);
  keep('endConsumerRule', await owner.post(`${path}/end`, { effectiveTo: '2031-01-01' }), 200);
}

/** The life of a draft of the price book, which in the end takes force long after the job. */
async function liveADraft(keep: Keep): Promise<void> {
  const owner = service.as('owner');
  const tagOf = (answer: Answer) => answer.headers['etag'] ?? '';
  const inForce = await owner.get('/v1/price-books/in-force');
  const list = await owner.get(`/v1/price-books/${inForce.body.id}/tiers.csv`);
  keep('getPriceBookList', list, 200);
  const note = PERSONAL.complaint;
  const begin = () => owner.post('/v1/price-book-drafts', { note, from: 'in_force' });
  const draft = keep('beginPriceBookDraft', await begin(), 201);
  const path = `/v1/price-book-drafts/${draft.body.id}`;
  keep('getPriceBookDraftList', await owner.get(`${path}/tiers.csv`), 200);
  const noted = await owner.patch(path, { note }, { ifMatch: tagOf(draft) });
  keep('changePriceBookDraft', noted, 200);
  const headers = { 'if-match': tagOf(noted) };
  const tiers = Buffer.from(list.text);
  const replaced = await owner.send(`${path}/tiers.csv`, 'text/csv', tiers, { headers });
  keep('replacePriceBookDraftList', replaced, 200);
  const when = { effectiveFrom: '2040-01-01T00:00:00Z' };
  const published = await owner.post(`${path}/publish`, when, { ifMatch: tagOf(replaced) });
  keep('publishPriceBookDraft', published, 200);
  const other = await begin();
  const drop = `${other.headers['location']}/drop`;
  keep('dropPriceBookDraft', await owner.post(drop, {}, { ifMatch: tagOf(other) }), 200);
}

interface Entry {
  at: Date;
  actor_kind: string;
  actor_id: string;
  actor_role: string;
  changes: string;
}

async function entryOf(operation: string): Promise<Entry> {
  const requestId = answers[operation]?.headers['x-request-id'];
  const found = await service.owner.query<Entry>(
    'SELECT * FROM journal_entry WHERE request_id = $1',
    [requestId],
  );
  const [entry] = found.rows;
  if (entry === undefined) throw new Error(`${operation} left no entry`);
  return entry;
}

async function nameHash(answer: Answer): Promise<string> {
  const found = await service.owner.query<{ hash: string }>(
    `SELECT changes::json -> 'personalAfter' ->> 'name' AS hash FROM journal_entry
     WHERE subject_id = $1 AND event = 'customer.added'`,
    [expectStatus(answer, 201).body.id],
  );
  return found.rows[0]?.hash ?? '';
}

async function countEntries(): Promise<number> {
  const counted = await service.owner.query<{ n: number }>(
    'SELECT count(*)::int AS n FROM journal_entry',
  );
  return counted.rows[0]?.n ?? Number.NaN;
}
