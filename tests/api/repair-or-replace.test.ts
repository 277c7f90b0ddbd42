import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { priceBook } from '../../seed/price-book.ts';
import { findCompressor, findOutdoorUnit, proveGroundedCompressor } from '../harness/compressor.ts';
import { findPluggedDrain, findTrippedBreaker } from '../harness/findings.ts';
import { atTime } from '../harness/fixed-clock.ts';
import {
  addSite,
  arriveAtJob,
  draftQuote,
  findCapacitor,
  issueQuote,
  type Job,
  outdoorPlate,
  type QuoteAt,
} from '../harness/job.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';

// The clock stands on July 14, 2026.
let service: TestService;
beforeAll(async () => {
  service = await createTestService();
});
afterAll(() => service.close());

const talk = 'repair_and_talk_about_replacing';
const old = { installedOn: '2012-07-14', partsWarrantyUntil: '2022-07-14' };

describe('the facts of a repair', () => {
  it('are its age, its warranties, what it costs and what a new machine typically costs', async () => {
    const { quote, facts } = await compressorQuote(old);
    const [option] = facts.options;
    const [machine] = option.machines;
    expect(facts).toMatchObject({ quoteId: quote.body.id, revision: 1, asOf: '2026-07-14' });
    expect(option).toMatchObject({
      optionId: quote.body.options[0].id,
      title: 'Repair',
      installsEquipment: false,
    });
    expect(machine).toMatchObject({
      ageYears: 14,
      repairCents: chargedForWork(quote),
      // The book: outdoor units above 2.5 and up to 3.5 tons.
      typicalReplacementCents: 610_000,
      warranties: {
        parts: { until: '2022-07-14', runs: false, daysLeft: 0 },
        compressor: null,
        labor: null,
      },
      word: talk,
      reason: 'rule_of_money_holds',
    });
    expect(machine.sentence).toMatch(/^Repair: it mends what was found/);
    expect(machine.refrigerant.map(({ source }: { source: string }) => source).join()).toMatch(
      /40 CFR 84/,
    );
    for (const rule of machine.rulesOfThumb) expect(rule.basis).toBe('common practice, no source');
  });

  it.each([
    [
      'a compressor that its own warranty covers',
      { ...old, compressorWarrantyUntil: '2026-07-14' },
      'under_warranty',
    ],
    ['a machine of which nothing is recorded', {}, 'warranty_not_recorded'],
  ])('%s speak for the repair alone', async (_name, days, reason) => {
    const { facts } = await compressorQuote(days);
    expect(facts.options[0].machines[0]).toMatchObject({ word: 'repair', reason });
  });

  it('of a machine past every age: a capacitor is a small bill, and a reset is no bill', async () => {
    const job = await jobWith({ installedOn: '1996-07-14' });
    const capacitor = await findCapacitor(service, job);
    const breaker = await findTrippedBreaker(service, job);
    const quote = await draftQuote(service, job, [capacitor]);
    const reset = await draftQuote(service, job, [breaker]);
    expect((await factsOf(quote)).options[0].machines[0]).toMatchObject({
      ageYears: 30,
      word: 'repair',
      reason: 'costs_little',
    });
    expect((await factsOf(reset)).options[0].machines[0]).toMatchObject({
      word: 'repair',
      reason: 'no_repair_in_it',
    });
  });

  it('of one machine hold neither fee nor tax against it, as they do of several', async () => {
    const job = await jobWith(old);
    const quote = await draftQuote(service, job, [await findCapacitor(service, job)]);
    // Part 55.20, access 25.16, labor 75.49; the option totals 204.90 with fee, credit and tax.
    expect(quote.body.options[0].totalCents).toBe(20_490);
    expect((await factsOf(quote)).options[0].machines).toMatchObject([{ repairCents: 15_585 }]);
  });

  it('are told of each machine that an option mends, with what is charged for it', async () => {
    const job = await jobWith(old);
    const quote = await draftQuote(service, job, [
      await findCapacitor(service, job),
      await findPluggedDrain(service, job),
    ]);
    const { machines } = (await factsOf(quote)).options[0];
    expect(machines.map(({ equipmentId }: { equipmentId: string }) => equipmentId)).toEqual([
      job.outdoorId,
      job.indoorId,
    ]);
    const charged = machines.map(({ repairCents }: { repairCents: number }) => repairCents);
    expect(charged.reduce((sum: number, each: number) => sum + each, 0)).toBe(
      chargedForWork(quote),
    );
    expect(Math.min(...charged)).toBeGreaterThan(0);
  });

  it('name no price of a new machine that the book does not name', async () => {
    const other = await createTestService({ withPriceBook: true });
    expectStatus(
      await other.as('owner').post('/v1/price-books', {
        ...priceBook,
        effectiveFrom: '2026-07-01T00:00:00Z',
        replacements: [],
      }),
      201,
    );
    const job = await arriveAtJob(other, await addSite(other, { outdoor: old }));
    const quote = await draftQuote(other, job, [await findCapacitor(other, job)]);
    const { body } = await other
      .as('technician')
      .get(`/v1/quotes/${quote.body.id}/repair-or-replace`);
    expect(body.options[0].machines[0].typicalReplacementCents).toBeNull();
    await other.close();
  });

  it('are not weighed for a new machine: nothing of it is mended', async () => {
    const job = await jobWith(old);
    await proveGroundedCompressor(service, job);
    const { body } = expectStatus(
      await service.as('technician').post('/v1/quotes', {
        visitId: job.visitId,
        options: [
          { title: 'Repair', findingIds: [await findCompressor(service, job)] },
          { title: 'New outdoor unit', findingIds: [await findOutdoorUnit(service, job)] },
        ],
      }),
      201,
    );
    const { options } = await factsOf({ body, tag: '' });
    expect(
      options.map(
        ({ installsEquipment, machines }: { installsEquipment: boolean; machines: [] }) => [
          installsEquipment,
          machines.length,
        ],
      ),
    ).toEqual([
      [false, 1],
      [true, 0],
    ]);
  });
});

describe('who sees them', () => {
  it('is who sees the quote: not another technician, and not of a revision that is not there', async () => {
    const { quote } = await compressorQuote(old);
    const path = `/v1/quotes/${quote.body.id}/repair-or-replace`;
    expectProblem(await service.as('second_technician').get(path), 'not-found');
    expectProblem(await service.as('owner').get(`${path}?revision=2`), 'not-found');
    for (const who of ['technician', 'dispatcher', 'owner'] as const) {
      expectStatus(await service.as(who).get(`${path}?revision=1`), 200);
    }
  });
});

describe('the paper', () => {
  it('has one block on it, where a word about a new machine is due, and the repair opens it', async () => {
    const { quote } = await compressorQuote(old);
    await issueQuote(service, quote);
    const [block, ...more] = await blocksOf(quote);
    expect(more).toEqual([]);
    const { machines } = (await factsOf(quote)).options[0];
    expect(block).toEqual({
      title: 'Repair, and a word about a new machine',
      text: machines[0].sentence,
    });
    expectStatus(await service.as('technician').get(`/v1/quotes/${quote.body.id}/paper`), 200);
  });

  it('says nothing of it otherwise', async () => {
    const job = await jobWith({ installedOn: '1996-07-14' });
    const quote = await draftQuote(service, job, [await findCapacitor(service, job)]);
    await issueQuote(service, quote);
    expect(await blocksOf(quote)).toEqual([]);
  });

  it('and the facts agree years later: they are of the day it was issued', async () => {
    const { quote } = await compressorQuote(old);
    await issueQuote(service, quote);
    const before = await factsOf(quote);
    await atTime(service.clock, '2030-07-14T18:00:00Z', async () => {
      expect(await factsOf(quote)).toEqual(before);
    });
  });
});

function jobWith(days: object): Promise<Job> {
  return addSite(service, { outdoor: { nameplate: outdoorPlate, ...days } }).then((site) =>
    arriveAtJob(service, site),
  );
}

/** Everything but what belongs to no machine: the fee, its credit and the tax. */
function chargedForWork({ body }: QuoteAt): number {
  return body.options[0].lines
    .filter(({ kind }: { kind: string }) => !['visit_fee', 'credit', 'tax'].includes(kind))
    .reduce((sum: number, line: { amountCents: number }) => sum + line.amountCents, 0);
}

async function compressorQuote(days: object) {
  const job = await jobWith(days);
  await proveGroundedCompressor(service, job);
  const quote = await draftQuote(service, job, [await findCompressor(service, job)]);
  return { quote, facts: await factsOf(quote) };
}

async function factsOf(quote: QuoteAt) {
  const path = `/v1/quotes/${quote.body.id}/repair-or-replace`;
  return expectStatus(await service.as('technician').get(path), 200).body;
}

/** What the frozen paper says of a new machine. */
async function blocksOf(quote: QuoteAt): Promise<{ title: string; text: string }[]> {
  const { rows } = await service.owner.query<{
    paper: { legalTexts: { title: string; text: string }[] };
  }>('SELECT paper FROM quote_issue WHERE quote_id = $1', [quote.body.id]);
  return rows.flatMap(({ paper }) =>
    paper.legalTexts.filter(({ title }) => /new machine/.test(title)),
  );
}
