import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { StaffKey } from '../../seed/company.ts';
import { agreementRoutes } from '../../src/agreements/index.ts';
import type { Role } from '../../src/platform/access/actor.ts';
import { priceBookDraftRoutes, rateWorkshopRoutes } from '../../src/pricebook/index.ts';
import { quoteRoutes } from '../../src/quotes/index.ts';
import { supplyRoutes } from '../../src/supplies/index.ts';
import { readPageTexts } from '../documents/read-pdf.ts';
import { findCompressor, proveGroundedCompressor } from '../harness/compressor.ts';
import { findWornContactor } from '../harness/findings.ts';
import {
  arriveAtJob,
  draftQuote,
  findCapacitor,
  issueQuote,
  type Job,
  type QuoteAt,
} from '../harness/job.ts';
import { billOf, openShop, type Shop, suppliedBook } from '../harness/shop.ts';
import {
  type Client,
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';

/**
 * What the company pays, as it could be written: unit costs, wage, truck, overhead, what an hour
 * costs (591,321.76 over 4,608 hours), and the words that go with them.
 */
const SECRETS = [
  /(?<![\w.-])(1840|18\.40|2175|21\.75)(?![\w-])/,
  /8133044|81,?330\.44/,
  /(?<![\w.-])(3200|32\.00)(?![\w-])|6656000|66,?560\.00|540000|5,?400\.00/,
  /1400000|14,?000\.00/,
  /21000000|210,?000\.00/,
  /59132176|591,?321\.76/,
  /(?<![\w.-])(12832|12833|128\.32|128\.33)(?![\w-])/,
  /cost per/i,
  /cost of/i,
  /burdened|overhead|margin|billable/i,
  /"owner":/,
];

/** Of a job no unit cost is shown at all; a supplier's bill says its own. */
const UNIT_COST = /unit ?cost/i;

let service: TestService;
let job: Job;
let quote: QuoteAt;
beforeAll(async () => {
  service = await createTestService();
  job = await arriveAtJob(service);
  const findings = [await findCapacitor(service, job), await findWornContactor(service, job)];
  quote = await issueQuote(service, await draftQuote(service, job, findings));
});
afterAll(() => service.close());

/** Everything that anybody may read about a job. */
function pages(): string[] {
  return [
    `/v1/quotes/${quote.body.id}`,
    `/v1/quotes/${quote.body.id}?revision=1`,
    `/v1/quotes/${quote.body.id}/why`,
    `/v1/quotes/${quote.body.id}/why-in-words`,
    '/v1/quotes',
    '/v1/parts',
    '/v1/faults',
    `/v1/visits/${job.visitId}`,
    `/v1/visits/${job.visitId}/findings`,
    `/v1/visits/${job.visitId}/evidence`,
    `/v1/visits/${job.visitId}/assessment?equipmentId=${job.outdoorId}`,
    `/v1/tickets/${job.ticketId}`,
    `/v1/equipment/${job.outdoorId}`,
    '/v1/company',
    '/v1/staff',
  ];
}

describe.each(['technician', 'dispatcher'] as const)('to a %s', (who: StaffKey) => {
  it('no answer about a job says what anything costs the company', async () => {
    for (const path of pages()) {
      expectNoSecret(expectStatus(await service.as(who).get(path), 200).text);
    }
  });

  it('the price book is closed: neither in force, nor by its identifier, nor to publish', async () => {
    const book = await service.as('owner').get('/v1/price-books/in-force');
    const client = service.as(who);
    expectProblem(await client.get('/v1/price-books/in-force'), 'forbidden');
    expectProblem(await client.get(`/v1/price-books/${book.body.id}`), 'forbidden');
    expectProblem(await client.post('/v1/price-books', {}), 'forbidden');
    expectProblem(await client.get('/v1/journal'), 'forbidden');
  });
});

describe('to a technician who makes a quote', () => {
  it('no answer on the way says a cost, a refusal least of all', async () => {
    const technician = service.as('technician');
    const findingIds = [await findCapacitor(service, job)];
    const part = `part:${findingIds[0]}:replace_dual_run_capacitor:CAP-45-5-440`;
    const asked = (amountCents: number) =>
      technician.post('/v1/quotes', {
        visitId: job.visitId,
        options: [
          {
            title: 'Repair',
            findingIds,
            adjustments: [{ aimedAt: part, amountCents, reason: 'A friend of the house' }],
          },
        ],
      });
    // The part is priced at 55.20 and costs 18.40: 19.20 is inside the band, 18.20 is not, and the
    // refusal must not say where it ends.
    const drafted = await asked(-3_600);
    expectNoSecret(expectStatus(drafted, 201).text);
    const refused = await asked(-3_700);
    expectProblem(refused, 'price-refused');
    expectNoSecret(refused.text);
    let tag = drafted.headers['etag'] ?? '';
    for (const [verb, body] of [
      ['revise', { options: [{ title: 'Repair', findingIds }] }],
      ['issue', {}],
      ['decline', { declinedByName: 'Winifred Ashgrove', conditionLeft: 'Off.' }],
    ] as const) {
      const path = `/v1/quotes/${drafted.body.id}/${verb}`;
      const answer = expectStatus(await technician.post(path, body, { ifMatch: tag }), 200);
      expectNoSecret(answer.text);
      tag = answer.headers['etag'] ?? '';
    }
  });
});

describe('to the customer', () => {
  it('the paper says what everything is priced at, and nothing of what it costs', async () => {
    const paper = await service.app.inject({
      method: 'GET',
      url: `/v1/quotes/${quote.body.id}/paper`,
      headers: { authorization: `Bearer ${service.staff.technician.token}` },
    });
    const texts = await readPageTexts(new Uint8Array(paper.rawPayload));
    const text = texts.map((page) => JSON.stringify(page)).join('\n');
    expect(text).toContain('55.20');
    expectNoSecret(text);
    const kept = await service.owner.query<{ paper: string }>(
      'SELECT paper::text AS paper FROM quote_issue WHERE quote_id = $1',
      [quote.body.id],
    );
    expectNoSecret(kept.rows[0]?.paper ?? '');
  });
});

describe('to the owner', () => {
  it('each price shows the cost it came from', async () => {
    const seen = await service.as('owner').get(`/v1/quotes/${quote.body.id}`);
    const text = expectStatus(seen, 200).text;
    for (const secret of [
      /(?<![\w.-])1840(?![\w-])/,
      /unit cost/,
      /cost per billable hour/,
      /"owner":/,
    ]) {
      expect(text).toMatch(secret);
    }
    const book = await service.as('owner').get('/v1/price-books/in-force');
    expect(book.body.rates.wage.hourlyCents).toBe(3_200);
  });
});

/**
 * A company of its own, in which a part costs what nothing else comes to: its figures can then be
 * looked for in every answer, whatever the answer is about.
 */
describe('of goods, agreements and a new machine', () => {
  const costs = new Map(suppliedBook.parts.map(({ code }, at) => [code, 1_000_003 + at * 7_919]));
  const costOf = (code: string) => costs.get(code) ?? Number.NaN;
  const code = 'CAP-45-5-440';
  const billedCents = 1_111_111;
  let shopService: TestService;
  let shop: Shop;
  let shopJob: Job;
  let quoteId: string;
  const secretDigits = new Set<string>();

  beforeAll(async () => {
    shopService = await createTestService();
    shop = await openShop(shopService);
    const parts = suppliedBook.parts.map((part) => ({ ...part, costCents: costOf(part.code) }));
    const book = { ...suppliedBook, effectiveFrom: '2026-02-01T00:00:00Z', parts };
    expectStatus(await shopService.as('owner').post('/v1/price-books', book), 201);
    shopJob = await arriveAtJob(shopService);
    await proveGroundedCompressor(shopService, shopJob);
    const findings = [await findCompressor(shopService, shopJob)];
    quoteId = (await draftQuote(shopService, shopJob, findings)).body.id;
    for (const cost of costs.values()) {
      // Also what several cost, and how far a bill is from it.
      for (let count = 1; count <= 20; count += 1) secretDigits.add(String(count * cost));
      secretDigits.add(String(Math.abs(billedCents - cost)));
    }
  });
  afterAll(() => shopService.close());

  /** Numbers as their digits: 10,079.22 and 1007922 are the same figure. */
  function figuresIn(text: string): string[] {
    const found = text.match(/(?<!\d)\d{1,3}(,\d{3})+(\.\d+)?(?!\d)|\d+(\.\d+)?/g) ?? [];
    return found.map((figure) => figure.replace(/[,.]/g, ''));
  }

  function expectNoCost(answer: Answer): Answer {
    const { text } = answer;
    expect(answer.status, text).toBeLessThan(300);
    for (const secret of SECRETS) expect(text).not.toMatch(secret);
    expect(text).not.toMatch(/costCents|bookCents|difference|,cost\b/);
    expect(figuresIn(text).filter((figure) => secretDigits.has(figure))).toEqual([]);
    return answer;
  }

  const place = (id: string, rest = '') => `/v1/stock-places/${id}${rest}`;
  const tagOf = (answer: Answer) => ({ ifMatch: answer.headers['etag'] ?? '' });
  const aBill = (placeId: string, partCode = code) =>
    billOf(placeId, { partCode, quantity: '2', amountCents: 2 * billedCents });

  /** What each route answers to somebody who may use it, in the order of a working day. */
  const asks: Record<string, (who: Client) => Promise<Answer>> = {
    enterSupplierBill: (who) => who.post('/v1/supplier-bills', aBill(shop.truckId)),
    loadSupplierBills: (who) =>
      who.send(
        '/v1/supplier-bills/load',
        'text/csv',
        Buffer.from(
          'supplier,number,billed_on,place,part_code,description,quantity,amount,other_charges,total\n' +
            `A House,${randomUUID()},2026-07-01,Shelves,FLOAT-1,,1,"$11,111.11",,11111.11`,
        ),
      ),
    listSupplierBills: (who) => who.get('/v1/supplier-bills'),
    getSupplierBill: async (who) => {
      const bill = aBill(shop.truckId, 'REF-R-410A');
      const entered = await shopService.as('owner').post('/v1/supplier-bills', bill);
      return who.get(expectStatus(entered, 201).headers['location'] ?? '');
    },
    addStockPlace: (who) => who.post('/v1/stock-places', { name: 'Attic', kind: 'shelves' }),
    listStockPlaces: (who) => who.get('/v1/stock-places'),
    getStockPlace: (who) => who.get(place(shop.truckId)),
    changeStockPlace: async (who) => {
      const tag = tagOf(await who.get(place(shop.otherTruckId)));
      return who.patch(place(shop.otherTruckId), { name: 'Truck two' }, tag);
    },
    usePart: (who) => who.post(place(shop.truckId, '/use'), moved({ visitId: shopJob.visitId })),
    bringBackPart: (who) =>
      who.post(place(shop.truckId, '/bring-back'), moved({ visitId: shopJob.visitId })),
    carryPart: (who) =>
      who.post(place(shop.truckId, '/carry'), moved({ toPlaceId: shop.shelvesId })),
    countPart: (who) =>
      who.post(place(shop.truckId, '/count'), { partCode: code, counted: '2', reason: 'Weekly.' }),
    listStock: (who) => who.get(place(shop.truckId, '/stock')),
    listStockMoves: (who) => who.get(place(shop.truckId, '/moves')),
    addStockTarget: (who) => who.post(place(shop.truckId, '/targets'), target(code)),
    changeStockTarget: async (who) => {
      const path = place(shop.truckId, `/targets/${code}`);
      const { partCode: _, ...change } = target(code);
      return who.patch(path, change, tagOf(await who.get(path)));
    },
    endStockTarget: async (who) => {
      const added = await who.post(place(shop.truckId, '/targets'), target('TRF-40'));
      return who.post(place(shop.truckId, '/targets/TRF-40/end'), {}, tagOf(added));
    },
    getStockTarget: (who) => who.get(place(shop.truckId, `/targets/${code}`)),
    getReorderList: (who) => who.get('/v1/reorder-list'),
    getReorderTable: (who) => who.get('/v1/reorder-list/csv'),
    listAgreementPlans: (who) => who.get('/v1/agreement-plans'),
    addAgreement: (who) => who.post(`/v1/sites/${shopJob.siteId}/agreements`, year),
    listAgreements: (who) => who.get(`/v1/sites/${shopJob.siteId}/agreements`),
    getAgreement: async (who) => who.get(`/v1/agreements/${await agreementId()}`),
    getRepairOrReplace: (who) => who.get(`/v1/quotes/${quoteId}/repair-or-replace`),
    endAgreement: async (who) => {
      const path = `/v1/agreements/${await agreementId()}`;
      return who.post(`${path}/end`, { endsOn: '2026-08-01' }, tagOf(await who.get(path)));
    },
  };

  const year = {
    planCode: 'two_visits',
    startsOn: '2026-01-01',
    endsOn: '2027-01-01',
    agreedByName: 'Winifred Ashgrove',
  };
  const moved = (more: object) => ({ partCode: code, quantity: '1', ...more });
  const target = (partCode: string) => ({ partCode, reorderAt: '5', orderUpTo: '9' });

  async function agreementId(): Promise<string> {
    const list = await shopService.as('owner').get(`/v1/sites/${shopJob.siteId}/agreements`);
    return expectStatus(list, 200).body.items[0].id;
  }

  const routes = [...supplyRoutes, ...agreementRoutes, ...quoteRoutes].filter(
    ({ tag, operationId }) => tag !== 'quotes' || operationId === 'getRepairOrReplace',
  );
  const openTo = (role: Role) =>
    routes.filter(({ access }) => access === 'public' || access.includes(role));
  const namesOf = (found: readonly { operationId: string }[]) =>
    found.map(({ operationId }) => operationId).sort();

  it('every route that is not the owner’s alone is asked here', () => {
    const open = new Set([...namesOf(openTo('dispatcher')), ...namesOf(openTo('technician'))]);
    expect(Object.keys(asks).sort()).toEqual([...open].sort());
  });

  it.each(['dispatcher', 'technician'] as const)('no answer to a %s says a cost', async (role) => {
    const open = new Set(namesOf(openTo(role)));
    const asked: string[] = [];
    for (const [operationId, ask] of Object.entries(asks)) {
      if (!open.has(operationId)) continue;
      expectNoCost(await ask(shopService.as(role)));
      asked.push(operationId);
    }
    expect(asked.sort()).toEqual([...open].sort());
  });

  it('the owner is told them, so the figures looked for are the right ones', async () => {
    const owner = shopService.as('owner');
    for (const path of ['/v1/reorder-list', '/v1/reorder-list/csv', '/v1/cost-changes']) {
      const { text } = expectStatus(await owner.get(path), 200);
      expect(figuresIn(text).some((figure) => secretDigits.has(figure))).toBe(true);
    }
    const bill = expectStatus(await owner.post('/v1/supplier-bills', aBill(shop.truckId)), 201);
    expect(bill.body.lines[0].unitCost).toMatchObject({ billedCents, bookCents: costOf(code) });
  });

  it('drafts of the book and the workshop of rates are closed to everybody else', () => {
    const closed = [...priceBookDraftRoutes, ...rateWorkshopRoutes];
    expect(closed.length).toBeGreaterThan(5);
    for (const { operationId, access } of closed) {
      expect([operationId, access]).toEqual([operationId, ['owner']]);
    }
  });
});

type Answer = Awaited<ReturnType<Client['get']>>;

function expectNoSecret(text: string): void {
  expect(text.length).toBeGreaterThan(10);
  for (const secret of [...SECRETS, UNIT_COST]) expect(text).not.toMatch(secret);
}
