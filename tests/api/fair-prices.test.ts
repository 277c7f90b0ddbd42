import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { priceBook } from '../../seed/price-book.ts';
import { findOpenFuse } from '../harness/findings.ts';
import { arriveAtJob, draftQuote, findCapacitor } from '../harness/job.ts';
import { createTestService, type TestService } from '../harness/test-service.ts';

/*
 * Worked with a pencil from the product's rules and the invented price book; nothing here calls
 * the engine.
 *
 * A technician's year
 *   wages                        32.00 x 2,080                                   =  66,560.00
 *   Social Security, Medicare    7.65 % of 66,560.00                             =   5,091.84
 *   federal unemployment         0.6 % of the first 7,000.00                     =      42.00
 *   state unemployment           2.7 % of the first 9,000.00                     =     243.00
 *   workers' compensation        6 % of 66,560.00                                =   3,993.60
 *   health insurance             a year                                          =   5,400.00
 *   burdened wage                                                                =  81,330.44
 *
 * Labor rate
 *   a technician's year          wage 81,330.44 + truck 14,000.00                =  95,330.44
 *   four technicians, overhead   4 x 95,330.44 + 210,000.00                      = 591,321.76
 *   billable hours               4 x 1,920 x 0.6                                 =   4,608
 *   cost per hour                591,321.76 / 4,608                              = 128.32504...
 *   margin 15 % on the price     128.32504... / 0.85                             = 150.97063...
 *   rate                         rounded half up                                 =     150.97
 *
 * Run capacitor, cost 18.40
 *   visit fee                    as told at the call                                    89.00
 *   part                         18.40 x 3 (all in the first tier, up to 25.00)         55.20
 *   labor                        30 / 60 x 150.97 = 75.485, half up                     75.49
 *   access                       10 / 60 x 150.97 = 25.16166...                         25.16
 *   credit                       half the fee 44.50, less than labor + access 100.65   -44.50
 *   before tax                                                                         200.35
 *   tax                          8.25 % of the part: 4.554                               4.55
 *   total                                                                              204.90
 *
 * Control fuse, cost 0.45: a reset, so its materials and no time
 *   visit fee                                                                           89.00
 *   part                         0.45 x 3                                                1.35
 *   tax                          8.25 % of 1.35: 0.111375                                0.11
 *   total                                                                               90.46
 */

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
});
afterAll(() => service.close());

describe('a fair total', () => {
  it('the pencil and the book start from the same figures', () => {
    expect(priceBook.rates).toMatchObject({
      wage: {
        hourlyCents: 3_200,
        annualPaidHours: 2_080,
        burden: [
          { share: '0.0765', onWagesUpToCents: null },
          { share: '0.006', onWagesUpToCents: 700_000 },
          { share: '0.027', onWagesUpToCents: 900_000 },
          { share: '0.06', onWagesUpToCents: null },
          { annualCents: 540_000 },
        ],
      },
      annualTruckCents: 1_400_000,
      annualOverheadCents: 21_000_000,
      technicianCount: 4,
      annualAvailableHours: 1_920,
      billableFraction: '0.6',
      margin: '0.15',
    });
    expect(priceBook.tiers.steps[0]).toEqual({ upToCents: 2_500, factor: '3' });
    expect(priceBook.parts.find(({ code }) => code === 'CAP-45-5-440')?.costCents).toBe(1_840);
  });

  it('of a capacitor whose part costs under $20 is $204.90, every cent explained', async () => {
    const job = await arriveAtJob(service);
    const { body } = await draftQuote(service, job, [await findCapacitor(service, job)]);
    expect(body.laborRateCents).toBe(15_097);
    expect(linesOf(body)).toEqual([
      ['visit_fee', 8_900],
      ['part', 5_520],
      ['labor', 7_549],
      ['access', 2_516],
      ['credit', -4_450],
      ['tax', 455],
    ]);
    expect(body.options[0].totalCents).toBe(20_490);
    // The arithmetic of each line is on the paper, so that a customer can follow it.
    const sentences = body.options[0].lines.map((line: Line) => line.why.sentence).join('\n');
    expect(sentences).toContain('30 minutes / 60 x $150.97 an hour = $75.49.');
    expect(sentences).toContain('8.25% of $55.20 (parts, materials, equipment) = $4.55.');
  });

  it('of an open control fuse is the fee and the fuse: $90.46', async () => {
    const job = await arriveAtJob(service);
    const { body } = await draftQuote(service, job, [await findOpenFuse(service, job)]);
    expect(linesOf(body)).toEqual([
      ['visit_fee', 8_900],
      ['part', 135],
      ['labor', 0],
      ['tax', 11],
    ]);
    expect(body.options[0].totalCents).toBe(9_046);
  });

  it('of saying no after a capacitor was proven is the fee that was told, and no more', async () => {
    const job = await arriveAtJob(service);
    const { body } = await draftQuote(service, job, [await findCapacitor(service, job)]);
    expect(body.declineTotalCents).toBe(8_900);
  });
});

interface Line {
  kind: string;
  amountCents: number;
  why: { sentence: string };
}

function linesOf(quote: { options: { lines: Line[] }[] }): [string, number][] {
  return (quote.options[0]?.lines ?? []).map(({ kind, amountCents }) => [kind, amountCents]);
}
