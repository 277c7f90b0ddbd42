import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { createTestService, expectStatus, type TestService } from '../harness/test-service.ts';

/*
 * The invented bills of last year that come with the program, by the invented price book. What each
 * of them should be told is written from the text of the product; that such bills are written is
 * common practice, no source.
 */

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
});
afterAll(() => service.close());

const told: readonly [line: number, flagged: string[], why: string][] = [
  [2, ['above_ceiling', 'sum_not_split'], 'a capacitor at $700'],
  [3, ['above_ceiling', 'sum_not_split'], 'a capacitor at $2,000'],
  [4, ['above_ceiling', 'hours_beyond_clock', 'reset_billed_as_repair'], 'a breaker at $389'],
  [5, [], 'a drain, fairly billed'],
  [6, [], 'a contactor, fairly billed'],
  [7, [], 'refrigerant, fairly billed'],
  [8, ['sum_not_split'], 'nobody can tell what was done'],
  [9, [], 'a look, at the visit fee'],
  [10, [], 'a reset at its materials'],
  [11, ['above_ceiling', 'hours_beyond_clock', 'sum_not_split'], 'four hours of 105 minutes'],
  [12, [], 'a reset at the fee; what was recommended was not done'],
];

it('last year’s bills: eleven, four of them above what they may come to', async () => {
  const file = readFileSync(new URL('../../seed/bills/last-year.csv', import.meta.url));
  const path = '/v1/bill-imports?origin=own&fileName=last-year.csv';
  const sent = await service.as('owner').send(path, 'text/csv', file);
  const { location } = expectStatus(sent, 201).headers;
  const bills = await service.as('owner').get(`${location}/bills?limit=100`);
  const flags = expectStatus(bills, 200).body.items.map(
    ({ line, judgement }: { line: number; judgement: { flags: { ruleCode: string }[] } }) => [
      line,
      judgement.flags.map(({ ruleCode }) => ruleCode).sort(),
    ],
  );
  expect(flags).toEqual(told.map(([line, flagged]) => [line, flagged]));
  const notPriced = bills.body.items.filter(
    ({ judgement }: { judgement: { fair: unknown } }) => judgement.fair === null,
  );
  expect(notPriced.map(({ line }: { line: number }) => line)).toEqual([8]);
});
