import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { priceBook } from '../../seed/price-book.ts';
import { beginDraft } from '../harness/draft.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';

// The wage of the worked example: 66,560.00 a year and 81,330.44 with what an employer pays on top.
const wage = {
  hourlyCents: 3_200,
  annualPaidHours: 2_080,
  burden: [
    { kind: 'share_of_wages', name: 'FICA', share: '0.0765', onWagesUpToCents: null },
    { kind: 'share_of_wages', name: 'FUTA', share: '0.006', onWagesUpToCents: 700_000 },
    { kind: 'share_of_wages', name: 'State', share: '0.027', onWagesUpToCents: 900_000 },
    { kind: 'share_of_wages', name: 'Workers', share: '0.06', onWagesUpToCents: null },
    { kind: 'yearly_amount', name: 'Health', annualCents: 540_000 },
  ],
};
const carry = {
  annualAvailableHours: 1_920,
  billableFraction: '0.6',
  annualTruckCents: 1_400_000,
  annualOverheadCents: 21_000_000,
  technicianCount: 4,
  margin: '0.15',
};
const summed = { ...carry, annualBurdenedWageCents: 8_133_044 };

let service: TestService;
let bookless: TestService;
beforeAll(async () => {
  service = await createTestService();
  bookless = await createTestService({ withPriceBook: false });
});
afterAll(async () => {
  await service.close();
  await bookless.close();
});

const tryRates = (rates: object, at = service) => at.as('owner').post('/v1/rate-workshop', rates);

describe('the owner tries out rates', () => {
  it('and sees every step from the wage to the rate, beside what is in force', async () => {
    const rates = { ...carry, wage, margin: '0.2' };
    const { body } = expectStatus(await tryRates(rates), 200);
    expect(body.burdenedWage.decimal).toBe('81330.44');
    expect(body.costPerHour.total).toEqual({
      decimal: '128.3250',
      unit: 'usd_per_hour',
      isRounded: true,
    });
    expect(body.laborRateCents).toBe(16_041);
    const book = await service.as('owner').get('/v1/price-books/in-force');
    expect(book.body.laborRateCents).toBe(15_097);
    expect(body.inForce).toEqual({
      priceBookNumber: 1,
      laborRateCents: { before: 15_097, after: 16_041, difference: 944 },
      oneHourCents: { before: 15_097, after: 16_041, difference: 944 },
      halfAnHourCents: { before: 7_549, after: 8_021, difference: 472 },
    });
  });

  it('before there is any price book', async () => {
    const { body } = expectStatus(await tryRates(summed, bookless), 200);
    expect(body).toMatchObject({ laborRateCents: 15_097, wage: null, inForce: null });
  });

  it('and nothing is stored: neither a book nor an entry in the journal', async () => {
    const count = async () => {
      const books = await service.owner.query('SELECT count(*) FROM price_book_version');
      const entries = await service.owner.query('SELECT count(*) FROM journal_entry');
      return [books.rows, entries.rows];
    };
    const before = await count();
    expectStatus(await tryRates({ ...summed, margin: '0.5' }), 200);
    expect(await count()).toEqual(before);
  });
});

describe('rates that cannot be are refused by the field that is wrong', () => {
  const share = { kind: 'share_of_wages', name: 'FICA', onWagesUpToCents: null };
  it.each([
    ['a margin of the whole price', { ...summed, margin: '1' }, '/margin'],
    ['a margin above the price', { ...summed, margin: '1.2' }, '/margin'],
    ['no hours', { ...summed, annualAvailableHours: 0 }, '/annualAvailableHours'],
    ['no hour of them billed', { ...summed, billableFraction: '0' }, '/billableFraction'],
    ['more billed than worked', { ...summed, billableFraction: '1.01' }, '/billableFraction'],
    ['no technicians', { ...summed, technicianCount: 0 }, '/technicianCount'],
    ['no paid hours', { ...carry, wage: { ...wage, annualPaidHours: 0 } }, '/wage/annualPaidHours'],
    [
      'a tax of more than the wages',
      { ...carry, wage: { ...wage, burden: [{ ...share, share: '1.01' }] } },
      '/wage/burden/0/share',
    ],
    ['a burden of no kind', { ...carry, wage: { ...wage, burden: [{}] } }, '/wage/burden/0/kind'],
    [
      'more hours worked than paid',
      { ...carry, annualAvailableHours: 2_081, wage },
      '/annualAvailableHours',
    ],
    ['no wage', carry, '/wage'],
    ['a wage in two forms', { ...summed, wage }, '/wage'],
    [
      'a rate that no column holds',
      { ...summed, annualAvailableHours: 1, billableFraction: '0.000001', margin: '0.999999' },
      '',
    ],
  ])('%s', async (_, rates, pointer) => {
    const refused = expectProblem(await tryRates(rates), 'validation-failed');
    expect(refused.body.errors.map((error: { pointer: string }) => error.pointer)).toEqual([
      pointer,
    ]);
  });

  it.each([
    ['a margin of the whole price', { margin: '1' }, '/rates/margin'],
    ['a margin that is no number', { margin: 'much' }, '/rates/margin'],
    ['a cost that is text', { annualTruckCents: '14000' }, '/rates/annualTruckCents'],
    ['a field of no rates', { markup: '0.2' }, '/rates/markup'],
    ['no hours', { annualAvailableHours: 0 }, '/rates/annualAvailableHours'],
    ['no wage', { annualBurdenedWageCents: undefined }, '/rates/wage'],
    ['a wage in two forms', { wage }, '/rates/wage'],
    [
      'no paid hours',
      { annualBurdenedWageCents: undefined, wage: { ...wage, annualPaidHours: 0 } },
      '/rates/wage/annualPaidHours',
    ],
    [
      'more hours worked than paid',
      { annualBurdenedWageCents: undefined, wage: { ...wage, annualPaidHours: 1_919 } },
      '/rates/annualAvailableHours',
    ],
    [
      'a rate that no column holds',
      { annualAvailableHours: 1, billableFraction: '0.000001', margin: '0.999999' },
      '/rates',
    ],
  ])('and so they are when published or drafted: %s', async (_, change, pointer) => {
    const rates = { ...summed, ...change };
    const published = await service.as('owner').post('/v1/price-books', { ...priceBook, rates });
    expect(expectProblem(published, 'validation-failed').body.errors).toMatchObject([{ pointer }]);
    const draft = await beginDraft(service);
    const changed = await service
      .as('owner')
      .patch(`/v1/price-book-drafts/${draft.id}`, { rates }, { ifMatch: draft.tag });
    expect(expectProblem(changed, 'validation-failed').body.errors).toMatchObject([{ pointer }]);
  });

  it('but every paid hour may be worked', async () => {
    const rates = { ...carry, wage: { ...wage, annualPaidHours: carry.annualAvailableHours } };
    expectStatus(await tryRates(rates), 200);
  });
});
